import './treat.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { useParams } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';

type Making =
  | { state: 'idle' | 'busy' }
  | { state: 'made'; paper: Reply<'work-sheet'> }
  | { state: 'failed'; fault: Fault };

/** Prints the work sheet of an open session. */
export default function SheetScreen() {
  const { session: id } = useParams('treat/session/:session/sheet');
  const call = useCall('session', { session: id });
  return (
    <Await call={call} what="Opening the session">
      {({ session }) => (
        <Screen
          title={`Work sheet: ${session.name}`}
          lead="What to take, what each one gets, what to look at first, who is left out and why, and room to write. It shows those still waiting, by what the book knows now."
          deeds={
            <>
              <DeedLink to="treat/session/:session" params={{ session: id }}>
                Back to the session
              </DeedLink>
              <DeedLink to="treat/emergency" query={{ session: id }}>
                Emergency sheet to hang up
              </DeedLink>
            </>
          }
        >
          {session.state === 'closed' ? (
            <Empty>This session is closed. What was given is in the treatment record.</Empty>
          ) : (
            <Print id={id} name={session.name} />
          )}
        </Screen>
      )}
    </Await>
  );
}

function Print({ id, name }: { id: string; name: string }) {
  const [making, setMaking] = useState<Making>({ state: 'idle' });
  const make = async () => {
    if (making.state === 'busy') return;
    setMaking({ state: 'busy' });
    const outcome = await desk.call('work-sheet', { session: id });
    setMaking(
      outcome.ok ? { state: 'made', paper: outcome.value } : { state: 'failed', fault: outcome.error },
    );
  };
  useCommand('save', () => void make());
  return (
    <>
      <p className="deeds">
        <Deed weight="main" isBusy={making.state === 'busy'} onDo={() => void make()}>
          {making.state === 'busy'
            ? 'Printing…'
            : making.state === 'made'
              ? 'Make it anew'
              : 'Make the paper'}
        </Deed>
      </p>
      {making.state === 'failed' ? <FaultNotice fault={making.fault} onAgain={() => void make()} /> : null}
      {making.state === 'made' ? (
        <>
          <Notice kind="done" word="Made">
            <p>
              {count(making.paper.rows, 'row', 'rows')} to treat, {making.paper.leftOut} left out, check code{' '}
              <strong className="code">{making.paper.checkCode}</strong>.
            </p>
          </Notice>
          <Paper hash={making.paper.paper} title={`Work sheet: ${name}`} saveAs={sheetFile(name)} />
        </>
      ) : null}
    </>
  );
}

/** A file name of plain letters, whatever the session is called. */
function sheetFile(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
  return `work-sheet-${plain === '' ? 'session' : plain}.pdf`;
}

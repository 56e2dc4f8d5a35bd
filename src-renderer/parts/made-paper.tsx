import { useState } from 'react';
import type { Fault, Outcome } from '../../src-shared/refusal.ts';
import { Deed } from './deed.tsx';
import { FaultNotice } from './notice.tsx';
import { Paper } from './paper.tsx';

type Made = { paper: string; checkCode: string };
type Making = { state: 'idle' | 'busy' } | { state: 'made'; made: Made } | { state: 'failed'; fault: Fault };

/** A deed that makes a paper, and the paper beneath it once it is made. */
export function MadePaper({
  deed,
  title,
  saveAs,
  onMake,
  weight = 'plain',
}: {
  deed: string;
  title: string;
  saveAs: string;
  onMake: () => Promise<Outcome<Made>>;
  weight?: 'plain' | 'main';
}) {
  const [making, setMaking] = useState<Making>({ state: 'idle' });
  const make = async () => {
    if (making.state === 'busy') return;
    setMaking({ state: 'busy' });
    const outcome = await onMake();
    setMaking(
      outcome.ok ? { state: 'made', made: outcome.value } : { state: 'failed', fault: outcome.error },
    );
  };
  return (
    <>
      <p className="deeds">
        <Deed weight={weight} isBusy={making.state === 'busy'} onDo={() => void make()}>
          {making.state === 'busy' ? 'Printing…' : making.state === 'made' ? 'Make it anew' : deed}
        </Deed>
      </p>
      {making.state === 'failed' ? <FaultNotice fault={making.fault} onAgain={() => void make()} /> : null}
      {making.state === 'made' ? <Paper hash={making.made.paper} title={title} saveAs={saveAs} /> : null}
    </>
  );
}

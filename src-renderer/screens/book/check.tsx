import './book.css';
import { type FormEvent, useState } from 'react';
import type { Ask, CallName, Reply } from '../../../src-shared/calls/all.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

type Asking<T> = { state: 'idle' | 'busy' } | { state: 'told'; value: T } | { state: 'failed'; fault: Fault };

/** Asks only when told to: both checks go through the whole book. */
function useAsking<N extends CallName>(name: N) {
  const [asking, setAsking] = useState<Asking<Reply<N>>>({ state: 'idle' });
  const ask = async (request: Ask<N>) => {
    setAsking({ state: 'busy' });
    const outcome = await desk.call(name, request);
    setAsking(
      outcome.ok ? { state: 'told', value: outcome.value } : { state: 'failed', fault: outcome.error },
    );
  };
  return { asking, ask };
}

/** Whether the book is whole, and whether today's rules would decide anything otherwise. */
export default function CheckScreen() {
  return (
    <Screen title="Check the book" lead="Neither of these changes anything.">
      <Whole />
      <Rules />
    </Screen>
  );
}

function Whole() {
  const { asking, ask } = useAsking('verify');
  const [code, setCode] = useState('');
  const send = (event: FormEvent) => {
    event.preventDefault();
    const head = code.trim();
    if (asking.state !== 'busy') void ask(head === '' ? {} : { head });
  };
  const wrongCode = asking.state === 'failed' && asking.fault.field === 'head' ? asking.fault : undefined;
  return (
    <Section title="Is every entry as it was written?">
      <form className="form" noValidate onSubmit={send}>
        <Field
          name="head"
          label="Check code"
          value={code}
          onChange={setCode}
          size={24}
          optional
          hint="From a paper that was printed earlier. With it you also learn whether anything up to then was changed or cut off."
          error={wrongCode && `${wrongCode.message} ${wrongCode.next ?? ''}`}
        />
        <p className="deeds form-deeds">
          <Deed submits weight="main" isBusy={asking.state === 'busy'}>
            {asking.state === 'busy' ? 'Reading every entry…' : 'Check the book'}
          </Deed>
        </p>
      </form>
      {asking.state === 'failed' && wrongCode === undefined ? <FaultNotice fault={asking.fault} /> : null}
      {asking.state === 'told' ? (
        <Notice kind={asking.value.ok ? 'note' : 'stop'} word={asking.value.ok ? 'Sound' : 'Not sound'}>
          <p className="says">{asking.value.says}</p>
        </Notice>
      ) : null}
    </Section>
  );
}

function Rules() {
  const { asking, ask } = useAsking('recheck');
  return (
    <Section title="Would today's rules hold anyone for longer or shorter?">
      <p className="lead">
        Holds stay as they were decided, even when a rule is corrected in a later Foldbook. Here you see where
        that matters.
      </p>
      <p className="deeds">
        <Deed isBusy={asking.state === 'busy'} onDo={() => void ask({})}>
          {asking.state === 'busy' ? 'Deciding every hold again…' : 'Decide every hold again'}
        </Deed>
      </p>
      {asking.state === 'failed' ? <FaultNotice fault={asking.fault} /> : null}
      {asking.state === 'told' ? <Different told={asking.value} /> : null}
    </Section>
  );
}

function Different({ told }: { told: Reply<'recheck'> }) {
  if (told.different.length === 0) {
    return (
      <Notice word="The same">
        <p>
          {count(told.checked, 'treatment', 'treatments')} looked at. Nothing would be decided otherwise
          today.
        </p>
      </Notice>
    );
  }
  return (
    <>
      <Notice kind="mind" word="Different">
        <p>
          {count(told.checked, 'treatment', 'treatments')} looked at;{' '}
          {count(told.different.length, 'hold', 'holds')} would be decided otherwise today. Look at each, and
          correct the treatment where today's answer is the right one.
        </p>
      </Notice>
      <Sentences label="Decided otherwise">
        {told.different.map((each) => (
          <Sentence
            key={`${each.administration} ${each.produce}`}
            mind
            margin={each.produce}
            small={`Written: ${each.written}.`}
            deed={
              <DeedLink to="book/treatment/:administration" params={{ administration: each.administration }}>
                Open the line
              </DeedLink>
            }
          >
            <strong>{each.shown}</strong>: today {each.today}.
          </Sentence>
        ))}
      </Sentences>
    </>
  );
}

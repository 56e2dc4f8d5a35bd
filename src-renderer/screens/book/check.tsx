import './book.css';
import { type FormEvent, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useLongWork } from '../../hooks/use-long-work.ts';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Working } from '../../parts/working.tsx';

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
  const work = useLongWork('verify');
  const { now, isBusy } = work;
  const [code, setCode] = useState('');
  const send = (event: FormEvent) => {
    event.preventDefault();
    const head = code.trim();
    void work.start(head === '' ? {} : { head });
  };
  const wrongCode = now.state === 'failed' && now.fault.field === 'head' ? now.fault : undefined;
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
          <Deed submits weight="main" isBusy={isBusy}>
            {isBusy ? 'Reading every entry…' : 'Check the book'}
          </Deed>
        </p>
      </form>
      {wrongCode === undefined ? <Working work={work} what="Reading every entry" /> : null}
      {now.state === 'done' ? (
        <Notice kind={now.value.ok ? 'note' : 'stop'} word={now.value.ok ? 'Sound' : 'Not sound'}>
          <p className="says">{now.value.says}</p>
        </Notice>
      ) : null}
    </Section>
  );
}

function Rules() {
  const work = useLongWork('recheck');
  const { now, isBusy } = work;
  return (
    <Section title="Would today's rules hold anyone for longer or shorter?">
      <p className="lead">
        Holds stay as they were decided, even when a rule is corrected in a later Foldbook. Here you see where
        that matters.
      </p>
      <p className="deeds">
        <Deed isBusy={isBusy} onDo={() => void work.start({})}>
          {isBusy ? 'Deciding every hold again…' : 'Decide every hold again'}
        </Deed>
      </p>
      <Working work={work} what="Deciding every hold again" />
      {now.state === 'done' ? <Different told={now.value} /> : null}
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

import './work-out.css';
import { useDeferredValue, useMemo, useState } from 'react';
import { Syringe } from '../../drawings/syringe.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { useParams } from '../../router.tsx';
import { CopyDeed } from './copy.tsx';
import { type Filled, fill } from './fill.ts';
import { Filling } from './filling.tsx';
import { CAUTION, workingText } from './plain-text.ts';
import { partsOf, type TopicSentence, type Typed } from './sentence.ts';
import { SENTENCES } from './sentences.ts';
import { useTyped } from './use-typed.ts';

/** One thing to work out: its sentence, the answer large beneath it, and the lines that check it. */
export default function WorkOutTopic() {
  const { topic } = useParams('work-out/:topic');
  const sentence = SENTENCES.find((one) => one.topic === topic);
  if (sentence !== undefined) return <Working sentence={sentence} />;
  return (
    <Screen title="Work something out">
      <Empty deed={<DeedLink to="work-out">See what there is</DeedLink>}>
        Nothing of that name is worked out here.
      </Empty>
    </Screen>
  );
}

function Working({ sentence }: { sentence: TopicSentence }) {
  const { typed, set, clear } = useTyped(sentence.topic);
  const [begun, setBegun] = useState(0);
  const parts = useMemo(() => partsOf(sentence, typed), [sentence, typed]);
  // A long list of weights takes a moment; the letters and the cursor must not wait for it.
  const settled = useDeferredValue(typed);
  const filled = useMemo(() => fill(sentence, settled), [sentence, settled]);
  const isLate = settled !== typed;
  const isEmpty = Object.keys(typed).length === 0;
  const isExample = !isEmpty && isSame(typed, sentence.example);
  const startAfresh = () => {
    clear();
    setBegun((before) => before + 1);
  };
  const text = workingText(sentence, filled, settled);
  return (
    <Screen title={sentence.question} lead={CAUTION}>
      <Filling
        // Begun afresh, it has no blank that somebody has already left.
        key={begun}
        parts={parts}
        filled={filled}
        typed={typed}
        label={sentence.question}
        takesCursor={begun > 0}
        onType={set}
      />
      {/* An answer that is not yet of what stands in the sentence says so. */}
      <div className={isLate ? 'steady-old' : undefined} aria-busy={isLate}>
        <Answer filled={filled} isExample={isExample} />
      </div>
      <p className="deeds">
        {text === undefined || isLate ? null : <CopyDeed text={text} />}
        <Deed onDo={() => set(sentence.example)}>Fill in an example</Deed>
        {isEmpty ? null : <Deed onDo={startAfresh}>Start afresh</Deed>}
        <DeedLink to="work-out">Work out something else</DeedLink>
      </p>
    </Screen>
  );
}

function isSame(typed: Typed, example: Typed): boolean {
  const names = new Set([...Object.keys(typed), ...Object.keys(example)]);
  return [...names].every((name) => (typed[name] ?? '') === (example[name] ?? ''));
}

function Answer({ filled, isExample }: { filled: Filled; isExample: boolean }) {
  if (filled.state === 'wrong' && filled.at === undefined) {
    return (
      <Notice kind="stop" word="Not so">
        <p>{filled.fault.message}</p>
        {filled.fault.next === undefined ? null : <p>{filled.fault.next}</p>}
      </Notice>
    );
  }
  if (filled.state !== 'told') return null;
  const { told, working, warnings } = filled;
  return (
    <Result
      label={isExample ? `${told.label} (figures of the example)` : told.label}
      big={told.big}
      working={working}
      warnings={warnings}
      isOpen
      drawing={
        told.syringe === undefined ? undefined : (
          <Syringe
            capacityMicrolitres={told.syringe.capacity}
            graduationMicrolitres={told.syringe.graduation}
            drawMicrolitres={told.syringe.draw}
            text={`${told.syringe.draw / 1000} mL`}
          />
        )
      }
    >
      {told.lines === undefined ? undefined : told.lines.map((line) => <p key={line}>{line}</p>)}
    </Result>
  );
}

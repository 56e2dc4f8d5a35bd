import { useMemo, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Deed } from '../../parts/deed.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { WriteQuestions } from '../../parts/form.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count } from '../../parts/words.ts';
import { type Farm, firstHolding } from './holding-field.tsx';
import { type AnimalRow, classOf, classOptions } from './words.ts';

type GroupPage = Reply<'group'>;

/** Putting into a group and taking out of it: by number, or all that answer to a filter. */
export function Members({ page, farm }: { page: GroupPage; farm: Farm }) {
  const [way, setWay] = useState('in');
  const [said, setSaid] = useState('');
  const { group } = page;
  const inIt = useMemo(() => new Set(page.members.map((one) => one.subject)), [page.members]);
  const write = useWrite('set-group');
  const send = async (add: readonly string[], remove: readonly string[], says: string) => {
    setSaid('');
    await write.send({
      holding: firstHolding(farm),
      group: group.group,
      name: group.name,
      add: [...add],
      remove: [...remove],
    });
    setSaid(says);
  };
  const pick = (row: AnimalRow) => {
    const isIn = inIt.has(row.subject);
    if (way === 'in' && isIn) return setSaid(`${row.shown} is in it already.`);
    if (way === 'out' && !isIn) return setSaid(`${row.shown} is not in it.`);
    if (way === 'in') void send([row.subject], [], `${row.shown} is in it now.`);
    else void send([], [row.subject], `${row.shown} is out of it now.`);
  };

  return (
    <Section title="Put in, take out">
      <div className="form">
        <Choice
          name="way"
          label="Each number that is read"
          value={way}
          onChange={setWay}
          options={[
            { value: 'in', label: 'Is put in' },
            { value: 'out', label: 'Is taken out' },
          ]}
        />
        <SubjectPicker hint="Read or type one after another." onPick={pick} />
        <ByFilter
          inIt={inIt}
          isOut={way === 'out'}
          onTake={(subjects, says) =>
            void (way === 'in' ? send(subjects, [], says) : send([], subjects, says))
          }
        />
      </div>
      {write.now.state === 'failed' ? <FaultNotice fault={write.now.fault} /> : null}
      <p className="hint" role="status">
        {write.now.state === 'done' || write.now.state === 'idle' ? said : ''}
      </p>
      <WriteQuestions write={write} />
    </Section>
  );
}

/** All named animals that answer to a class and a text; those that need no move are left out. */
function ByFilter({
  inIt,
  isOut,
  onTake,
}: {
  inIt: ReadonlySet<string>;
  isOut: boolean;
  onTake: (subjects: readonly string[], says: string) => void;
}) {
  const [sheepClass, setClass] = useState('');
  const [search, setSearch] = useState('');
  const wanted = classOf(sheepClass);
  const isAsked = wanted !== undefined || search.trim() !== '';
  const found = useCall(
    'animals',
    isAsked ? { search, limit: 25_000, ...(wanted === undefined ? {} : { class: wanted }) } : null,
  );
  const moving =
    isAsked && found.state === 'ready'
      ? found.value.animals.filter((row) => inIt.has(row.subject) === isOut).map((row) => row.subject)
      : [];
  const what = count(moving.length, 'animal', 'animals');
  const says =
    found.state === 'loading' ? (
      'Looking…'
    ) : found.state === 'failed' ? (
      found.fault.message
    ) : moving.length === 0 ? (
      `Nobody who answers to this is left to ${isOut ? 'take out' : 'put in'}.`
    ) : (
      <Deed onDo={() => onTake(moving, isOut ? `${what} taken out.` : `${what} put in.`)}>
        {isOut ? `Take ${what} out` : `Put ${what} in`}
      </Deed>
    );
  return (
    <>
      <Select
        name="class"
        value={sheepClass}
        onChange={setClass}
        label="Or all of a class"
        options={[{ value: '', label: 'Any class' }, ...classOptions]}
      />
      <Field
        name="search"
        value={search}
        onChange={setSearch}
        label="With this in a number"
        optional
        size={16}
        {...(isAsked ? { readBack: says } : {})}
      />
    </>
  );
}

import { type Ref, useState } from 'react';
import { PURPOSE_RULES } from '../../../src-shared/declare/purposes.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count } from '../../parts/words.ts';
import { joinLocal } from '../book/when.ts';
import { headsOf, withMore } from './clear-rows.ts';
import { type DeclareValues, destinationIn, type Preview, purposeOf } from './declare-values.ts';

/** Puts heads on the list: by number, by group, or all that are clear when they leave. */
export function Picking({
  form,
  preview,
  box,
}: {
  form: FormState<DeclareValues>;
  preview: Preview;
  box: Ref<HTMLInputElement>;
}) {
  const groups = useCall('groups', {});
  const [group, setGroup] = useState('');
  const [fault, setFault] = useState<Fault | undefined>(undefined);
  const { values } = form;
  // The desk was asked in between: who came onto the list meanwhile stays there.
  const add = (subjects: readonly string[]) => form.set((now) => ({ going: withMore(now.going, subjects) }));
  const addGroup = async () => {
    const outcome = await desk.call('group', { group });
    if (!outcome.ok) return setFault(outcome.error);
    setFault(undefined);
    add(outcome.value.members.map((row) => row.subject));
  };
  const { clearOf } = PURPOSE_RULES[purposeOf(values.purpose)];
  const addClear = async () => {
    const isAgreed = values.purpose === 'slaughter' && values.isAgreed && values.notDay !== '';
    const outcome = await desk.call('clear-list', {
      holding: values.holding,
      at: isAgreed ? joinLocal(values.notDay, values.notTime) : joinLocal(values.day, values.time),
      destination: destinationIn(values),
      produce: clearOf ?? 'meat',
      ...(group === '' ? {} : { group }),
    });
    if (!outcome.ok) return setFault(outcome.error);
    setFault(undefined);
    const { clear, held } = outcome.value;
    // A paper that only says what still runs is for the held as well.
    add([...clear, ...(clearOf === undefined ? held : [])].map((row) => row.subject));
  };
  const known = groups.state === 'ready' ? groups.value.groups : [];
  const chosen = known.find((one) => one.group === group);
  const onList =
    values.going.length === 0
      ? 'Nobody is on the list yet.'
      : preview.state === 'ready'
        ? `${count(headsOf(preview.value.lines) + headsOf(preview.value.refused), 'head', 'head')} on the list.`
        : '';
  return (
    <Section title="Who goes">
      <SubjectPicker
        ref={box}
        label="Add by number"
        hint={`Number, Enter, next. ${onList}`}
        error={form.problems.find((problem) => problem.field === 'subject')?.message}
        onPick={(one) => add([one.subject])}
      />
      {known.length === 0 ? null : (
        <Select
          name="group"
          label="Or from a group"
          value={group}
          onChange={setGroup}
          options={[
            { value: '', label: 'The whole flock' },
            ...known.map((one) => ({
              value: one.group,
              label: `${one.name}, ${count(one.heads, 'head', 'head')}`,
            })),
          ]}
        />
      )}
      <p className="deeds form-deeds">
        <Deed onDo={() => void addClear()}>
          {clearOf === undefined
            ? `Add everybody${chosen === undefined ? '' : ` of ${chosen.name}`}`
            : `Add all ${chosen === undefined ? '' : `of ${chosen.name} `}that are clear ${clearOf === 'milk' ? 'then' : 'when they leave'}`}
        </Deed>
        {chosen === undefined || clearOf === undefined ? null : (
          <Deed onDo={() => void addGroup()}>Add everybody of {chosen.name}</Deed>
        )}
        {values.going.length === 0 ? null : <Deed onDo={() => form.set({ going: [] })}>Empty the list</Deed>}
      </p>
      {fault === undefined ? null : <FaultNotice fault={fault} />}
    </Section>
  );
}

import { Choice, Field, Select, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { blankActive, isBlank, isInjected, type LabelDraft } from './draft.ts';
import { backPeriod, backStrength, pieceOf } from './reading.ts';
import { More, RowFields } from './rows.tsx';
import { type At, partOf, rowsOf, textOf, tickOf } from './use-label.ts';
import {
  flowOptions,
  formOptions,
  inUseOptions,
  kindOptions,
  prescriptionOptions,
  purposeOptions,
  USUAL_KIND,
} from './words.ts';

/** A text read back, or no such property while there is nothing to read back. */
export function reads(text: string | undefined): { readBack?: string } {
  return text === undefined ? {} : { readBack: text };
}

/** What the medicine is, how it is measured, and what is in it. */
export function MedicineFields({ at }: { at: At<LabelDraft> }) {
  const draft = at.value;
  const hasNeedle = draft.doseLines.some(isInjected);
  const more = pieceOf(draft);
  const actives = rowsOf('actives', draft.actives, at.error, (rows) => at.set({ actives: rows }));
  return (
    <>
      <Section title="The medicine">
        <Field {...textOf(at, 'name')} label="Name" hint="As it is printed on the box." />
        <Select
          {...textOf(at, 'form')}
          onChange={(form) => at.set({ form, kind: draft.kind || (USUAL_KIND[form] ?? '') })}
          label="What it is"
          options={formOptions}
        />
        <Choice {...textOf(at, 'kind')} label="How it is measured" options={kindOptions} />
        {draft.kind === 'pieces' ? (
          <Field
            {...textOf(at, 'piece')}
            label="One piece is called"
            list={['bolus', 'tablet', 'tube', 'sachet', 'sponge', 'dose']}
            size={12}
          />
        ) : null}
        <Select {...textOf(at, 'purpose')} label="What it is for" options={purposeOptions} />
        <Select {...textOf(at, 'prescription')} label="Who may supply it" options={prescriptionOptions} />
      </Section>
      <Section title="What is in it">
        <RowFields
          rows={actives}
          first="substance"
          isBlank={(row) => isBlank(row)}
          least={1}
          add="Add another active substance"
          make={() => blankActive}
          out={(n) => `Take out ${draft.actives[n]?.substance || 'this substance'}`}
        >
          {(active) => (
            <>
              <Field {...textOf(active, 'substance')} label="Active substance" size={28} />
              <Field
                {...textOf(active, 'strength')}
                label="Strength"
                hint="As printed: 10 mg/mL, 1 %, 300000 IU/mL, 100 mg per bolus."
                size={18}
                optional
                {...reads(backStrength(active.value.strength, more))}
              />
              {active.value.strength === '' && active.value.salt === '' ? null : (
                <Field
                  {...textOf(active, 'salt')}
                  label="Given as"
                  hint="The salt, where the insert names one."
                  size={28}
                  optional
                />
              )}
              {active.value.salt === '' ? null : (
                <Choice
                  {...textOf(active, 'strengthOf')}
                  label="The strength counts"
                  hint="A salt weighs more than what is in it, so the two doses differ. The dose must count the same."
                  options={[
                    { value: 'base', label: active.value.substance || 'The substance itself' },
                    { value: 'salt', label: active.value.salt },
                    { value: '', label: 'The label does not say' },
                  ]}
                />
              )}
            </>
          )}
        </RowFields>
        {hasNeedle ? (
          <>
            <Select {...textOf(at, 'flowClass')} label="How it flows" options={flowOptions} />
            <Tick {...tickOf(at, 'stains')} label="It stains wool" />
            <Tick {...tickOf(at, 'irritates')} label="It irritates where it is injected" />
            <Tick {...tickOf(at, 'leaks')} label="It leaks back out of the place" />
            <NeedleFields at={at} />
          </>
        ) : null}
        <Tick {...tickOf(at, 'shakeWell')} label="Shake well before use" />
        <Tick
          {...tickOf(at, 'narrowMargin')}
          label="A little too much is dangerous"
          hint="Doses are then rounded down, never up."
        />
      </Section>
    </>
  );
}

/** What the insert says of the needle. Most say nothing, so it stays folded. */
function NeedleFields({ at }: { at: At<LabelDraft> }) {
  const needle = partOf(at, 'needle');
  const isUsed = Object.values(needle.value).some((text) => text !== '');
  return (
    <More summary="What the insert says of the needle" isUsed={isUsed}>
      <Field {...textOf(needle, 'gauge')} label="Gauge" hint="As in 18G." size={6} optional />
      <Field
        {...textOf(needle, 'length')}
        label="Length"
        hint="Exactly this one: 1/2 in, or 13 mm."
        size={8}
        optional
      />
      <Field
        {...textOf(needle, 'mostLength')}
        label="Not longer than"
        hint="As in 15 mm."
        size={8}
        optional
      />
      <Field
        {...textOf(needle, 'punctures')}
        label="Stopper pierced at most, times"
        inputMode="numeric"
        size={5}
        optional
      />
    </More>
  );
}

/** Once opened, storage, dangers and whatever else the insert says. */
export function KeepingFields({ at }: { at: At<LabelDraft> }) {
  const { inUse, inUseHow } = at.value;
  const storage = partOf(at, 'storage');
  const hazards = partOf(at, 'hazards');
  const isMore = hazards.value.other !== '' || at.value.sucklingYoung !== '' || at.value.note !== '';
  return (
    <>
      <Section title="Keeping it">
        <Choice {...textOf(at, 'inUseHow')} label="Once opened" options={inUseOptions} />
        {inUseHow === 'period' ? (
          <Field
            {...textOf(at, 'inUse')}
            label="It keeps for"
            hint="28 d, 10 h"
            size={10}
            {...reads(backPeriod(inUse))}
          />
        ) : null}
        <Field {...textOf(storage, 'says')} label="Storage" hint="In the words of the label." optional />
        <Field {...textOf(storage, 'leastC')} label="Not under, °C" size={4} inputMode="text" optional />
        <Field {...textOf(storage, 'mostC')} label="Not over, °C" size={4} inputMode="text" optional />
      </Section>
      <Section title="Dangers">
        <Field {...textOf(hazards, 'people')} label="To people" lines={2} size={44} optional />
        <Field {...textOf(hazards, 'pregnantWomen')} label="To pregnant women" lines={2} size={44} optional />
        <More summary="Other dangers, suckling young, a note" isUsed={isMore}>
          <Field
            {...textOf(hazards, 'other')}
            label="To others"
            hint="Dogs, fish, bees."
            lines={2}
            size={44}
            optional
          />
          <Field {...textOf(at, 'sucklingYoung')} label="Of suckling young" lines={2} size={44} optional />
          <Field {...textOf(at, 'note')} label="Note" lines={2} size={44} optional />
        </More>
      </Section>
    </>
  );
}

import type { Reply } from '../../../src-shared/calls/all.ts';
import { CONTENTS, SLAUGHTER_CONTENTS, sayContent } from '../../../src-shared/declare/contents.ts';
import { PURPOSE_RULES, PURPOSES } from '../../../src-shared/declare/purposes.ts';
import { desk } from '../../desk.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { DayField, TimeField } from '../../parts/day-field.tsx';
import { Choice, Field, Select, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { begunWith, contentIn, type DeclareValues, purposeOf } from './declare-values.ts';

type Farm = Reply<'farm'>;
type Form = FormState<DeclareValues>;

/** What it is for, by which text, where it goes, to whom and when. */
export function Sort({ form, farm, known }: { form: Form; farm: Farm; known: readonly string[] }) {
  const { values } = form;
  const purpose = purposeOf(values.purpose);
  // Another sort of paper, or another holding, begins with what was said there the last time.
  const begin = (change: Partial<Pick<DeclareValues, 'holding' | 'purpose'>>) => {
    form.set(change);
    const holding = change.holding ?? values.holding;
    void desk
      .call('declaration-form', { holding, purpose: purposeOf(change.purpose ?? values.purpose) })
      .then((outcome) => {
        if (outcome.ok) form.set(begunWith(outcome.value));
      });
  };
  const others = farm.holdings.filter((one) => one.holding !== values.holding);
  const sorts = PURPOSES.filter((one) => one !== 'transfer' || farm.holdings.length > 1);
  return (
    <>
      <Section title="What it is for">
        <Choice
          {...form.text('purpose')}
          onChange={(text) => begin({ purpose: text })}
          label="What it is for"
          options={sorts.map((one) => ({ value: one, label: PURPOSE_RULES[one].choice }))}
        />
        {purpose === 'slaughter' ? <ByWhichText form={form} /> : null}
        {purpose === 'slaughter' || purpose === 'milk' ? (
          <Select
            {...form.text('destination')}
            label="Where it goes from there"
            hint={HINTS[values.destination]}
            options={[
              { value: 'domestic', label: 'To people here' },
              { value: 'export', label: 'For export' },
              { value: 'organic', label: 'As organic' },
            ]}
          />
        ) : null}
      </Section>
      <Section title="Where and when">
        {farm.holdings.length < 2 ? null : (
          <Select
            {...form.text('holding')}
            onChange={(holding) => begin({ holding })}
            label="From which holding"
            options={farm.holdings.map((one) => ({ value: one.holding, label: one.name }))}
          />
        )}
        {purpose === 'transfer' ? (
          <Select
            {...form.text('toHolding')}
            label="To which holding"
            options={[
              { value: '', label: 'Choose a holding' },
              ...others.map((one) => ({ value: one.holding, label: `${one.name}, ${one.number}` })),
            ]}
          />
        ) : (
          <Field {...form.text('to')} label="To whom" hint={TO_HINTS[purpose]} list={known} />
        )}
        <DayField {...departsField(form)} label={DAY[purpose]} />
        <TimeField
          {...form.text('time')}
          label={TIME[purpose]}
          optional
          hint="Without a time the start of the day counts, which is the careful reading."
        />
        {purpose === 'slaughter' ? <Agreed form={form} /> : null}
        <Field
          {...form.text('relevantDays')}
          label="List treatments whose period ended within so many days before"
          hint="Empty: every treatment with a period that the book has."
          optional
          size={6}
          inputMode="numeric"
        />
      </Section>
    </>
  );
}

const HINTS: Readonly<Record<string, string>> = {
  export:
    'The periods that the labels print for export count as well. A label that is silent on export is named on the paper.',
  organic: 'The organic date counts as well: it needs a certificate with known rules.',
};
const TO_HINTS = {
  slaughter: 'The abattoir that is told.',
  'live-sale': 'The buyer, dealer or market that is told.',
  milk: 'The dairy or buyer that is told.',
  transfer: '',
  shearing: 'The shearers.',
} as const;
const DAY = {
  slaughter: 'Day they leave',
  'live-sale': 'Day they leave',
  milk: 'Milk from which day',
  transfer: 'Day they leave',
  shearing: 'Day they are shorn',
} as const;

const TIME = {
  slaughter: 'Time they leave',
  'live-sale': 'Time they leave',
  milk: 'Milk from which time',
  transfer: 'Time they leave',
  shearing: 'Time they are shorn',
} as const;

function ByWhichText({ form }: { form: Form }) {
  const rule = SLAUGHTER_CONTENTS[contentIn(form.values)];
  return (
    <Select
      {...form.text('content')}
      label="By which text it is made"
      hint={`${sayContent(rule)}${rule.note === undefined ? '' : ` ${rule.note}`}`}
      options={CONTENTS.map((one) => ({ value: one, label: SLAUGHTER_CONTENTS[one].name }))}
    />
  );
}

/** The one way in which somebody under withdrawal may leave for slaughter. */
function Agreed({ form }: { form: Form }) {
  return (
    <>
      <Tick
        {...form.tick('isAgreed')}
        label="The abattoir agreed not to slaughter before a later time"
        hint="Then everybody must be clear by that time, and the paper says so in large letters."
      />
      {form.values.isAgreed ? (
        <>
          <DayField {...notBeforeField(form)} label="Not to be slaughtered before this day" />
          <TimeField {...form.text('notTime')} label="Time on that day" optional />
          <Field
            {...form.text('agreedWith')}
            label="Who agreed to it"
            hint="Name and place at the abattoir, as in their lairage, by telephone."
            size={40}
          />
          <DayField {...form.text('agreedOn')} label="When it was agreed" />
        </>
      ) : null}
    </>
  );
}

/** The desk names the day and the time together; what it says of them stands at the day. */
function departsField(form: Form) {
  const said = form.problems.find((problem) => problem.field === 'departs');
  const own = form.text('day');
  return said === undefined ? own : { ...own, error: said.message };
}

function notBeforeField(form: Form) {
  const said = form.problems.find((problem) => problem.field?.startsWith('notBefore') === true);
  const own = form.text('notDay');
  return said === undefined ? own : { ...own, error: said.message };
}

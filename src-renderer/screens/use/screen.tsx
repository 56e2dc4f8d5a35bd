import { useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { groupWords } from '../../../src-shared/record/use-classes.ts';
import { desk } from '../../desk.ts';
import { UseChart } from '../../drawings/use-chart.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { HoldingChoice } from '../../parts/holding-choice.tsx';
import { MadePaper } from '../../parts/made-paper.tsx';
import { Working } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { isNothing, needWords, usedYears, wholeKg, yearTitle } from './use-rows.ts';

type Use = Reply<'use'>;
type Year = Use['years'][number];

/** What was used: antimicrobials by weight of substance, remedies against parasites and vaccines by dose. */
export default function UseScreen() {
  const [holding, setHolding] = useState('');
  const asked = holding === '' ? {} : { holding };
  const call = useCall('use', asked);
  return (
    <Screen
      title="What was used"
      lead="Antimicrobials by weight of substance, for each kg of the farm’s own animals. Remedies against parasites and vaccines by dose."
      deeds={
        <>
          <CommandDeed id="vet-page" />
          <CommandDeed id="cost" />
          <DeedLink to="book">The book</DeedLink>
        </>
      }
    >
      <HoldingChoice value={holding} onChange={setHolding} />
      <Await call={call} what="Counting what was used">
        {(use) =>
          use.years.every(isNothing) ? (
            <Empty deed={<CommandDeed id="treat-one" />}>
              No antimicrobial, no remedy against parasites and no vaccine is in the book yet.
            </Empty>
          ) : (
            <Shown key={holding} use={use} asked={asked} />
          )
        }
      </Await>
    </Screen>
  );
}

function Shown({ use, asked }: { use: Use; asked: Ask<'use'> }) {
  const open = use.substances.filter(({ needs }) => needs.length > 0);
  return (
    <>
      {open.length === 0 ? null : (
        <Section title="Still to be said">
          <Substances label="Substances to be said" substances={open} />
        </Section>
      )}
      <Section title="By year">
        <UseChart years={usedYears(use.years)} />
      </Section>
      <OneYear years={use.years} holding={asked.holding ?? ''} />
      <Section title="How it counts">
        <Sentences label="How it counts">
          <Sentence
            margin="Weights"
            small={`${use.rules.source}. It was made for the sales of whole countries, so the farm’s own weights stand first.`}
            deed={<DeedLink to="book/use/rules">Change</DeedLink>}
          >
            mg/PCU counts {use.rules.livingKg} kg for each living and {use.rules.slaughteredKg} kg for each
            slaughtered sheep.
          </Sentence>
        </Sentences>
        <Substances
          label="Substances"
          substances={use.substances.filter(({ needs }) => needs.length === 0)}
        />
      </Section>
      <MadePaper
        deed="Print it"
        title="Use of medicines by year"
        saveAs="use-of-medicines.pdf"
        onMake={() => desk.call('use-paper', asked)}
      />
    </>
  );
}

function Substances({ label, substances }: { label: string; substances: Use['substances'] }) {
  if (substances.length === 0) return null;
  return (
    <Sentences label={label}>
      {substances.map((one) => {
        const { substance, salt, needs, group, published } = one;
        const factor =
          one.iuToMg ?? one.saltFactor ?? (published && `${published.value}, from ${published.source}`);
        return (
          <Sentence
            key={`${substance}/${salt ?? ''}`}
            mind={needs.length > 0}
            margin={needs.length > 0 ? 'To be said' : 'Counts as'}
            small={`In ${one.medicines.join(', ')}.${factor === undefined ? '' : ` Factor ${factor}.`}`}
            deed={
              <DeedLink
                to="book/use/substance"
                query={{ substance, ...(salt === undefined ? {} : { salt }) }}
              >
                {needs.length > 0 ? 'Say it' : 'Change'}
              </DeedLink>
            }
          >
            <strong>{salt === undefined ? substance : `${substance} as ${salt}`}</strong>:{' '}
            {needs.length > 0 ? needWords(needs) : group === undefined ? '' : groupWords(group)}
          </Sentence>
        );
      })}
    </Sentences>
  );
}

/** One year in full: the newest, or the one that is chosen. */
function OneYear({ years, holding }: { years: readonly Year[]; holding: string }) {
  const [chosen, setChosen] = useState('');
  const year = years.find((one) => String(one.year) === chosen) ?? years[0];
  if (year === undefined) return null;
  const { weight } = year;
  return (
    <Section title="One year">
      {years.length < 2 ? null : (
        <Select
          name="year"
          label="Year"
          value={String(year.year)}
          onChange={setChosen}
          options={years.map((one) => ({ value: String(one.year), label: yearTitle(one) }))}
        />
      )}
      <Sentences label={yearTitle(year)}>
        {year.missing.map((text) => (
          <Sentence key={text} mind margin="Not counted in">
            {text}
          </Sentence>
        ))}
        <Sentence margin="Antimicrobials">
          {year.doses === 0
            ? 'No head was given one.'
            : `${count(year.doses, 'head was', 'head were')} dosed, each time counted anew.`}
        </Sentence>
        <Sentence margin="Own weight" small={weight.ownText.join(' ')} mind={weight.ownKg === undefined}>
          {weight.ownKg === undefined ? 'It is not known.' : `${wholeKg(weight.ownKg)} kg.`}
        </Sentence>
        <Sentence
          margin="Standard weight"
          small={weight.standardText.join(' ')}
          deed={
            <DeedLink
              to="book/use/heads"
              query={{ year: String(year.year), ...(holding === '' ? {} : { holding }) }}
            >
              Enter your own count
            </DeedLink>
          }
        >
          {count(weight.living, 'living sheep', 'living sheep')} and {weight.slaughtered} slaughtered:{' '}
          {wholeKg(weight.pcuKg)} kg.
        </Sentence>
        {year.parasites.map((one) => (
          <Sentence key={one.key} margin="Parasites" small={one.medicines.join(', ')}>
            <strong>{one.name}</strong>: {count(one.doses, 'dose', 'doses')}.
          </Sentence>
        ))}
        {year.vaccines.map((one) => (
          <Sentence key={one.key} margin="Vaccine">
            <strong>{one.name}</strong>: {count(one.doses, 'dose', 'doses')}.
          </Sentence>
        ))}
      </Sentences>
      <Working lines={year.working} />
    </Section>
  );
}

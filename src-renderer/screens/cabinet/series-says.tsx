import type { Reply } from '../../../src-shared/calls/all.ts';
import { DegreesByDay } from '../../drawings/degrees.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, dayInWords } from '../../parts/words.ts';

type Series = Reply<'take-logger'>['series'];

/** What the readings say as a whole: how many, how cold and how warm, day by day, and where there is none. */
export function SeriesSays({ series }: { series: Series }) {
  const { readings, since, until, leastC, mostC, interval, days, gaps } = series;
  return (
    <Section title="What it says">
      <Sentences label="What it says">
        <Sentence
          margin="In all"
          small={`From ${since} until ${until}${interval === undefined ? '' : `, ${interval}`}.`}
        >
          {`${count(readings, 'reading', 'readings')}: between ${leastC} and ${mostC} °C.`}
        </Sentence>
        {gaps.slice(0, SHOWN_GAPS).map((gap) => (
          <Sentence key={gap} margin="Gap" mind>
            {gap}
          </Sentence>
        ))}
        {gaps.length > SHOWN_GAPS ? (
          <Sentence margin="Gap" mind>
            {`And ${count(gaps.length - SHOWN_GAPS, 'more', 'more')}.`}
          </Sentence>
        ) : null}
      </Sentences>
      <DegreesByDay days={days} />
      <details>
        <summary>Day by day</summary>
        <List
          rows={days}
          columns={dayColumns}
          rowKey={(one) => one.day}
          label="Day by day"
          fileName="temperatures by day"
          isAside
          empty={<p className="cabinet-none">None.</p>}
        />
      </details>
    </Section>
  );
}

const dayColumns: readonly Column<Series['days'][number]>[] = [
  { key: 'day', head: 'Day', text: (one) => dayInWords(one.day), order: (one) => one.day, share: 2 },
  { key: 'least', head: 'Least', text: (one) => `${one.leastC} °C`, isNumber: true },
  { key: 'most', head: 'Most', text: (one) => `${one.mostC} °C`, isNumber: true },
  { key: 'readings', head: 'Readings', text: (one) => String(one.readings), isNumber: true },
];

/** More gaps than these are counted. */
const SHOWN_GAPS = 12;

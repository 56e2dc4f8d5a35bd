import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useWeightKnown } from '../../hooks/use-weight-known.ts';
import { Notice } from '../../parts/notice.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

type Session = Reply<'session'>;

/** What writing all of them starts: the withdrawal of each class that waits, and which dose of a course it is. */
export function Starts({
  id,
  waiting,
  instructions,
}: {
  id: string;
  waiting: Session['waiting'];
  /** The vet's instructions that are chosen for this run. */
  instructions: Ask<'dose-for'>['instructions'];
}) {
  const classes = [...new Map(waiting.map((row) => [row.class, row])).values()];
  return (
    <Sentences label="What it starts">
      {classes.map((row) => (
        <ClassStarts
          key={row.class}
          asked={{ session: id, subject: row.subject, instructions }}
          who={classes.length > 1 ? `${row.class.replace('-', ' ')}: ` : ''}
        />
      ))}
    </Sentences>
  );
}

function ClassStarts({ asked, who }: { asked: Ask<'dose-for'>; who: string }) {
  const call = useCall('dose-for', asked);
  if (call.state !== 'ready') return null;
  return call.value.doses.map(({ line, name, foreseen }) =>
    foreseen === undefined ? null : (
      <Sentence key={line} margin="Starts" small={foreseen.course?.says}>
        {who}
        <strong>{foreseen.meat}</strong>, by {name} given now
      </Sentence>
    ),
  );
}

/** By which weights the doses were worked out, from the oldest; and that old ones are to be taken again. */
export function Weights({ waiting, old }: { waiting: Session['waiting']; old: string | undefined }) {
  const sayKnown = useWeightKnown();
  const known = waiting.flatMap((row) =>
    row.weight === undefined || row.weighedOn === undefined
      ? []
      : [{ weight: row.weight, weighedOn: row.weighedOn, weighedHow: row.weighedHow }],
  );
  const [oldest] = known.toSorted((a, b) => (a.weighedOn < b.weighedOn ? -1 : 1));
  if (old !== undefined) {
    return (
      <Notice kind="mind" word="Old weights">
        <p>{old}</p>
      </Notice>
    );
  }
  if (oldest === undefined) return null;
  return (
    <Sentences label="Weights">
      <Sentence margin="Weights">
        Doses are by the weights of the book; the oldest: {sayKnown(oldest)}.
      </Sentence>
    </Sentences>
  );
}

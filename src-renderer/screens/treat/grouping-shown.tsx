import type { Reply } from '../../../src-shared/calls/all.ts';
import { Notice } from '../../parts/notice.tsx';
import { Working } from '../../parts/result.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

type PlanLine = Reply<'plan-session'>['lines'][number];
type Group = NonNullable<PlanLine['grouping']>;

/** The parts of a group, a sentence each: who, how much each, where the gate is set. */
export function Parts({ group, label = 'Parts' }: { group: Group; label?: string }) {
  return (
    <Sentences label={label}>
      {group.parts.map((part) => (
        <Sentence
          key={part.part}
          margin={part.of === 1 ? 'All' : `Part ${part.part} of ${part.of}`}
          small={
            Number(part.over) === 0
              ? 'Each gets its own dose.'
              : `The lightest gets ${part.over} % more than its own dose.`
          }
        >
          {part.says}
        </Sentence>
      ))}
    </Sentences>
  );
}

/** How a group is dosed by the plan: its parts, what it takes in all, and what the ends of the trade would be. */
export function GroupShown({ line }: { line: PlanLine }) {
  const { grouping } = line;
  if (grouping === undefined) return null;
  const { total, worstOver, capPercent, ends, sample } = grouping;
  return (
    <section className="race-group" aria-label={`${line.name}, dosed together`}>
      <h3>{grouping.how === 'drafted' ? `Drafted: ${line.name}` : `To the heaviest: ${line.name}`}</h3>
      <Parts group={grouping} />
      <p className="race-total">
        <strong>{total.text}</strong> in all; the worst gets <strong>{worstOver} %</strong> more than its own
        dose, where {capPercent} % is allowed.
      </p>
      {sample === undefined ? null : (
        <Notice kind={sample.picked === undefined ? 'mind' : 'note'} word="Sample">
          <p>{sample.says}</p>
        </Notice>
      )}
      {ends.length === 0 ? null : (
        <ul className="race-ends">
          {ends.map((end) => (
            <li key={end.code}>{end.says}.</li>
          ))}
        </ul>
      )}
      <Working lines={grouping.working} />
    </section>
  );
}

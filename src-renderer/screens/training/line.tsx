import type { Reply } from '../../../src-shared/calls/all.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Sentence } from '../../parts/sentence.tsx';
import { shownDay } from '../../parts/typed-when.ts';

type Training = Reply<'trainings'>['trainings'][number];

const REVIEWS: Readonly<Record<Training['review'], (on: string) => string>> = {
  none: () => '',
  later: (on) => ` To be looked at again on ${on}.`,
  soon: (on) => ` To be looked at again by ${on}.`,
  over: (on) => ` Was to be looked at again on ${on}.`,
  renewed: (on) => ` Was to be looked at again on ${on}; it was.`,
};

/** One note, with the way to note it anew where its review is due. */
export function TrainingLine({ one }: { one: Training }) {
  const isDue = one.review === 'soon' || one.review === 'over';
  const on = one.reviewOn === undefined ? '' : shownDay(one.reviewOn);
  const more = [
    one.proof === undefined ? '' : ` Proof: ${one.proof}.`,
    one.note === undefined ? '' : ` ${one.note}`,
  ];
  return (
    <Sentence
      mind={one.review === 'over'}
      margin={one.review === 'over' ? 'Overdue' : one.review === 'soon' ? 'Soon' : shownDay(one.day)}
      small={`${one.how === 'taught' ? 'Taught' : 'Seen'} by ${one.with} on ${shownDay(one.day)}.${REVIEWS[one.review](on)}${more.join('')}`}
      deed={
        isDue ? (
          <DeedLink to="farm/training/note" query={{ person: one.person, what: one.what }}>
            Note it anew
          </DeedLink>
        ) : undefined
      }
    >
      <strong>{one.personName}</strong>: {one.what}
    </Sentence>
  );
}

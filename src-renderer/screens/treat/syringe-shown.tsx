import type { Reply } from '../../../src-shared/calls/all.ts';
import { Deed } from '../../parts/deed.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { ownChoice } from './words.ts';

type PlanLine = Reply<'plan-session'>['lines'][number];

/** What of the farm's it is best drawn up in, what that may be off by, and a finer one first where its marks are coarse. */
export function SyringeShown({ line, onTake }: { line: PlanLine; onTake: (choice: string) => void }) {
  const { drawnUp } = line;
  if (drawnUp === undefined) return null;
  const { finer } = drawnUp;
  return (
    <Sentences label={`What ${line.name} is drawn up in`}>
      {finer === undefined ? null : (
        <Sentence
          mind
          margin="Finer first"
          deed={<Deed onDo={() => onTake(ownChoice(finer))}>Take {finer.name}</Deed>}
        >
          {finer.says}
        </Sentence>
      )}
      <Sentence
        margin={drawnUp.isTaken ? 'Drawn up in' : 'Draw up in'}
        small={drawnUp.working.map(({ text }) => text).join('; ')}
        deed={
          drawnUp.isTaken ? undefined : (
            <Deed onDo={() => onTake(ownChoice(drawnUp))}>Take {drawnUp.name}</Deed>
          )
        }
      >
        {drawnUp.says}
      </Sentence>
    </Sentences>
  );
}

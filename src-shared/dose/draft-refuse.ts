import { type Amount, type AmountKind, printAmount } from '../quantity/amount.ts';
import { type Fraction, toPlaces } from '../quantity/fraction.ts';
import { printWeight, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Distinct } from './draft-gate.ts';
import { type Block, type Limit, partsNeeded, type Row } from './draft-split.ts';
import { show } from './exact.ts';
import { IN_WHOLE_PIECES } from './marks.ts';

type Failed = {
  row: Row;
  blocks: readonly { block: Block; run: readonly Distinct[] }[];
  limit: Limit;
  how: { parts: number; gate?: Weight | undefined; piece?: string | undefined };
  cap: Fraction;
  round: (exact: Fraction) => Amount;
  kind: AmountKind;
};

/** Why no split in so many parts holds the cap, and what would. */
export function capRefusal(failed: Failed): Refusal {
  const { row, limit, how, cap } = failed;
  const field = 'capPercent';
  const percent = toPlaces(cap, 1);
  const needed = partsNeeded(row, limit);
  if (needed === undefined) return blockRefusal(failed);
  const parts = how.parts === 1 ? 'one part' : `${how.parts} parts`;
  const says = `Cap: in ${parts} the lightest of a part would get more than ${percent} % over its own dose`;
  if (needed > 4) {
    return new Refusal(
      'cap-cannot-hold',
      `${says}, and four parts are not enough: it would take ${needed}.`,
      {
        field,
        next: 'Dose each animal by its own weight.',
      },
    );
  }
  return new Refusal('cap-cannot-hold', `${says}; ${needed} parts would hold it.`, {
    field,
    next: `Draft into ${needed} parts, or dose the lightest by themselves.`,
  });
}

/** Animals that cannot be parted break the cap already: the marks, or the gate, are too coarse. */
function blockRefusal({ row, blocks, limit, how, cap, round, kind }: Failed): Refusal {
  const broken = blocks.find(({ block }) => partsNeeded(rowOfOne(row, blocks, block), limit) === undefined);
  const run = broken?.run ?? [];
  const [lightest, heaviest] = [run[0], run.at(-1)];
  if (lightest === undefined || heaviest === undefined)
    throw new RangeError('A limit was broken by no animal.');
  const dose = printAmount(round(heaviest.exact), how.piece);
  const own = show(lightest.exact, kind, { piece: how.piece });
  const percent = toPlaces(cap, 1);
  if (lightest === heaviest) {
    return new Refusal(
      'marks-too-coarse',
      `Step: ${printWeight(lightest.weight)} needs ${own}, and the next mark, ${dose}, is more than ${percent} % over.`,
      { field: 'step', next: kind === 'pieces' ? IN_WHOLE_PIECES : 'Take something with finer marks.' },
    );
  }
  return new Refusal(
    'cap-cannot-hold',
    `Gate: it cannot part ${printWeight(lightest.weight)} from ${printWeight(heaviest.weight)}, and ${dose} is more than ${percent} % over ${own}.`,
    { field: 'gate', next: 'Set the gate in finer steps, or dose the lightest by themselves.' },
  );
}

function rowOfOne(row: Row, blocks: Failed['blocks'], block: Block): Row {
  const i = blocks.findIndex((one) => one.block === block);
  return {
    size: 1,
    doses: row.doses.slice(i, i + 1),
    before: [0, block.heads],
    scaledDoses: row.scaledDoses.slice(i, i + 1),
    scaledExact: row.scaledExact.slice(i, i + 1),
  };
}

/** A part whose dose the label does not allow in one animal. */
export function overMostRefusal(part: { to: Weight; dose: Amount }, most: Amount, piece?: string): Refusal {
  return new Refusal(
    'over-most',
    `Most: ${printWeight(part.to)} would get ${printAmount(part.dose, piece)}, more than the most the label allows (${printAmount(most, piece)}).`,
    { field: 'most', next: 'Check the heaviest weight; if it is right, ask the vet.' },
  );
}

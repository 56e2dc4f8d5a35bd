import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import { CHANGES, needlesNeeded } from '../../../src-shared/needle/change.ts';
import { readLength } from '../../../src-shared/needle/needle.ts';
import { MOSTS, perSiteOf } from '../../../src-shared/needle/per-site.ts';
import { GUIDES } from '../../../src-shared/needle/rules-guides.ts';
import { SPACINGS } from '../../../src-shared/needle/sites.ts';
import { readGauge } from '../../../src-shared/needle/tubing.ts';
import { amountOf, baseOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf, onlyHolding, recordOf } from '../reading/holding.ts';

export type HouseRules = DataOf<'house-rules-set'>;
type Needle = NonNullable<HouseRules['skin']>;
type Guidance = Reply<'house-rules'>['guidance'][number];

/** What a holding has settled on for needles; nothing where it has said nothing. */
export function houseRulesOf(tx: Reader, holding: string): HouseRules | undefined {
  return recordOf<HouseRules>(tx, 'house-rules', holding);
}

/** Answers `house-rules`. */
export function houseRules(context: Context, asked: Asked<'house-rules'>): Reply<'house-rules'> {
  const tx = context.store.read;
  const holding = asked.holding === undefined ? onlyHolding(tx) : holdingOf(tx, asked.holding);
  const found = holding && houseRulesOf(tx, holding.holding);
  const most = found?.maxPerSite;
  return {
    ...optional('holding', holding?.holding),
    rules: {
      ...optional('skin', found?.skin),
      ...optional('muscle', found?.muscle),
      ...optional('changeEvery', found?.changeEvery),
      ...optional('spacingIn', found?.spacingIn),
      ...optional('maxPerSite', most && printAmount(amountOf(most.kind, unitsOf(most)))),
    },
    guidance: GUIDANCE,
  };
}

const shown = ({ rule, says, source, mark }: Guidance['sides'][number]) => ({ rule, says, source, mark });

/** The sources for grown sheep, as short as they stand in the table. */
function needlesOf(prefix: string): Guidance['sides'] {
  return GUIDES.filter(({ id }) => id.startsWith(prefix)).map(({ id, short, source, mark }) => ({
    rule: id,
    says: `${short} in`,
    source,
    mark,
  }));
}

const GUIDANCE: Guidance[] = [
  {
    topic: 'skin',
    sides: needlesOf('skin-'),
    taken:
      'Without a rule of the farm: 1/2 in, or 3/4 in for what stains, irritates or leaks, and the thinnest that flows.',
  },
  {
    topic: 'muscle',
    sides: [...needlesOf('muscle-'), ...needlesOf('older-')],
    taken: 'Without a rule of the farm: 1 in, which goes less deep, and the thinnest that flows.',
  },
  {
    topic: 'change',
    sides: CHANGES.map(shown),
    taken: 'Without a rule of the farm: the strictest, a new needle for every animal.',
  },
  {
    topic: 'spacing',
    sides: SPACINGS.map(shown),
    taken: 'Without a rule of the farm: the widest, 3 in.',
  },
  {
    topic: 'per-site',
    sides: MOSTS.filter(({ from }) => from === 'guidance').map(({ id, short, source, mark }) => ({
      rule: id,
      says: short,
      source,
      mark,
    })),
    taken: 'Without a rule of the farm: the least, 5 mL. No source has a figure for lambs.',
  },
];

/** Answers `set-house-rules`: only within what a source says. */
export function setHouseRules(context: Context, asked: Asked<'set-house-rules'>): Reply<'set-house-rules'> {
  return write<'set-house-rules'>(context, asked, (act) => {
    holdingOf(act.tx, asked.holding);
    const { changeEvery, spacingIn } = asked;
    if (changeEvery !== undefined) checkChange(changeEvery);
    if (spacingIn !== undefined) checkSpacing(spacingIn);
    act.add('house-rules-set', {
      holding: asked.holding,
      ...optional('skin', needleOf(asked.skin, 'skin')),
      ...optional('muscle', needleOf(asked.muscle, 'muscle')),
      ...optional('changeEvery', changeEvery),
      ...optional('spacingIn', spacingIn),
      ...optional('maxPerSite', asked.maxPerSite === undefined ? undefined : mostOf(asked.maxPerSite)),
    });
    return { done: true };
  });
}

function needleOf(typed: Asked<'set-house-rules'>['skin'], field: string): Needle | undefined {
  const { gauge, lengthIn } = typed ?? {};
  if (gauge === undefined && lengthIn === undefined) return undefined;
  return {
    ...optional('gauge', gauge === undefined ? undefined : readGauge(gauge, `${field}.gauge`)),
    ...optional('lengthIn', lengthIn === undefined ? undefined : readLength(lengthIn, `${field}.lengthIn`)),
  };
}

/** The rule of change refuses what no source says; here the field is the form's. */
function checkChange(heads: number): void {
  try {
    needlesNeeded({ heads: 0, bottles: 0, houseEveryHeads: heads });
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    throw new Refusal(thrown.code, thrown.message, { field: 'changeEvery', next: thrown.next });
  }
}

function checkSpacing(inches: number): void {
  const [least, most] = [Math.min(...SPACINGS.map((one) => one.inches)), MOST_INCHES];
  if (Number.isInteger(inches) && inches >= least && inches <= most) return;
  throw new Refusal('house-past-sources', `Spacing: write whole inches from ${least} to ${most}.`, {
    field: 'spacingIn',
  });
}
/** Further apart than this two places do not lie on one side of a sheep (practice). */
const MOST_INCHES = 12;

function mostOf(text: string): HouseRules['maxPerSite'] {
  const most = parseAmount(text, 'maxPerSite');
  try {
    perSiteOf(most, { house: most }, false);
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    throw new Refusal(thrown.code, thrown.message, { field: 'maxPerSite', next: thrown.next });
  }
  return amountData(most.kind, baseOf(most));
}

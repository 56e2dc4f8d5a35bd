import type { DataOf } from '../../../src-shared/entries/all.ts';
import { substanceKey } from '../../../src-shared/entries/substance-set.ts';
import type { Active, LabelTerms } from '../../../src-shared/label/terms.ts';
import { parseStrength, strengthMeasure } from '../../../src-shared/quantity/strength.ts';
import type { ToMg } from '../../../src-shared/record/use.ts';
import { type Factor, knownFactor, parseFactor } from '../../../src-shared/record/use-factors.ts';
import type { Reader } from '../../store/store.ts';
import { recordsOf } from '../reading/holding.ts';
import { readTerms } from '../reading/labels.ts';

export type Substance = DataOf<'substance-set'>;
/** Why the strength of a substance cannot be turned into mg. */
export type Lack = 'strength' | 'iu' | 'salt' | 'salt-or-base';

export type Substances = {
  /** What the farm has said of it. */
  said(active: Active): Substance | undefined;
  /** How its strength becomes mg, or what is lacking. */
  toMg(active: Active, piece: string | undefined): ToMg | Lack;
  /** The published factor that would be used. */
  published(active: Active, piece: string | undefined): Factor | undefined;
};

/** What the book knows of active substances: the farm's own word first, then the published factors. */
export function substancesOf(tx: Reader): Substances {
  const own = new Map(recordsOf<Substance>(tx, 'substance').map((one) => [substanceKey(one), one]));
  const said = (active: Active) => own.get(substanceKey(active));
  return {
    said,
    published: (active, piece) => {
      const kind = neededFactor(active, piece);
      return kind === undefined || kind === 'strength' || kind === 'salt-or-base'
        ? undefined
        : knownFactor(kind, active);
    },
    toMg(active, piece) {
      const kind = neededFactor(active, piece);
      if (kind === undefined) {
        // A name that is that of a salt itself counts as one.
        const known = active.salt === undefined ? knownFactor('salt', active) : undefined;
        return (
          asFactor('salt', said(active)?.saltFactor, active.strengthOf === 'base' ? undefined : known) ?? {}
        );
      }
      if (kind === 'strength' || kind === 'salt-or-base') return kind;
      const typed = kind === 'iu' ? said(active)?.iuToMg : said(active)?.saltFactor;
      return asFactor(kind, typed, knownFactor(kind, active)) ?? kind;
    },
  };
}

function asFactor(
  kind: 'iu' | 'salt',
  typed: string | undefined,
  known: Factor | undefined,
): ToMg | undefined {
  const text = typed ?? known?.value;
  if (text === undefined) return undefined;
  const source = typed === undefined ? known?.source : 'the farm’s own word';
  return { [kind]: parseFactor(text, kind, kind), source };
}

/** Which factor the strength needs; nothing for mg of the substance itself. IU count the substance without its salt. */
export function neededFactor(active: Active, piece: string | undefined): Lack | undefined {
  if (active.strength === undefined) return 'strength';
  if (strengthMeasure(parseStrength(active.strength, 'strength', { piece })) === 'activity') return 'iu';
  if (active.salt === undefined || active.strengthOf === 'base') return undefined;
  return active.strengthOf === 'salt' ? 'salt' : 'salt-or-base';
}

/** Every label with the medicine it is of: the newest revision of each last. */
export function labelsByRevision(tx: Reader): Map<string, { medicine: string; terms: LabelTerms }> {
  const rows = tx.all<{ id: string; medicine: string; terms: string }>(
    'SELECT id, medicine, terms FROM revision ORDER BY n, id',
  );
  return new Map(rows.map(({ id, medicine, terms }) => [id, { medicine, terms: readTerms(terms) }]));
}

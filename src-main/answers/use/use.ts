import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import {
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  toDecimal,
  toPlaces,
  toSignificant,
  ZERO,
} from '../../../src-shared/quantity/fraction.ts';
import { groupWords, isParasiteGroup, SUBSTANCE_GROUPS } from '../../../src-shared/record/use-classes.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { dayOf, instantOf, parseInstant, startOfDay } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf, onlyHolding } from '../reading/holding.ts';
import { animalsReader, type FarmAnimals } from './animals.ts';
import {
  antimicrobialsIn,
  antimicrobialsOf,
  type Doses,
  dosesOf,
  gramsText,
  NOT_SAID,
  type Used,
} from './given.ts';
import { rulesOfUse, type StandardHeads, saysSource, standardHeads, type UseRules } from './heads.ts';
import { labelsByRevision, type Substances, substancesOf } from './substances.ts';

export type Use = Reply<'use'>;

/** So many years are shown when none is asked for, and so many at most. */
const SHOWN_YEARS = 5;
const MOST_YEARS = 12;
/** Answers `use`. Refuses (`no-such-holding`). */
export function answerUse(context: Context, asked: Asked<'use'>): Use {
  const tx = context.store.read;
  const holding = asked.holding === undefined ? onlyHolding(tx) : holdingOf(tx, asked.holding);
  const zone = holding?.zone ?? 'UTC';
  const today = dayOf(parseInstant(context.now(), 'clock'), zone);
  const rules = rulesOfUse(tx);
  const last = Math.min(asked.to ?? 9999, Number(today.slice(0, 4)));
  const earliest = asked.from ?? Math.max(firstYear(tx) ?? last, last - SHOWN_YEARS + 1);
  const first = Math.max(Math.min(earliest, last), last - MOST_YEARS + 1);
  const between = {
    holding: asked.holding,
    from: instantOf(`${first}-01-01`, zone, 'start'),
    to: instantOf(`${last}-12-31`, zone, 'end'),
  };
  const substances = substancesOf(tx);
  const used = antimicrobialsOf(tx, between);
  const doses = dosesOf(tx, between);
  const animals = animalsReader(tx);
  const facts = medicineFacts(tx, substances);
  const years: Use['years'] = [];
  for (let year = last; year >= first; year -= 1) {
    const end = `${year}-12-31`;
    const to = (today < end ? today : end) as Day;
    const span = { holding: asked.holding, from: `${year}-01-01`, to, end: startOfDay(to, zone, 1) };
    const counted = animals(span);
    years.push(
      yearRow(String(year), {
        used: used.get(String(year)),
        doses: doses.filter((one) => one.year === String(year)),
        animals: counted,
        standard: standardHeads(tx, { span, counted, rules }, animals),
        rules,
        to,
        isRunning: to !== end,
        facts,
      }),
    );
  }
  return {
    rules: { ...rules, heads: rules.heads ?? [], source: saysSource(rules) },
    years,
    substances: substanceRows(tx, substances),
  };
}

function firstYear(tx: Reader): number | undefined {
  const row = tx.get<{ year: string | null }>('SELECT min(substr(local, 1, 4)) AS year FROM administration');
  return row?.year == null ? undefined : Number(row.year);
}

type YearFacts = {
  used: Used | undefined;
  doses: readonly Doses[];
  animals: FarmAnimals;
  standard: StandardHeads;
  rules: UseRules;
  to: string;
  isRunning: boolean;
  facts: ReadonlyMap<string, MedicineFacts>;
};

function yearRow(
  year: string,
  { used, doses, animals, standard, rules, to, isRunning, facts }: YearFacts,
): Use['years'][number] {
  const { ownKg, says } = animals;
  const { living, slaughtered, kg: pcuKg } = standard;
  const shown = (mg: Fraction) => ({
    mg: toDecimal(mg),
    text: gramsText(mg),
    ...optional('mgPerKg', ownKg && quotient(mg, ownKg)),
    ...optional('mgPerPcu', pcuKg.n === 0n ? undefined : quotient(mg, pcuKg)),
  });
  const groups = [...(used?.mg ?? [])].map(([group, mg]) => ({
    group,
    name: groupName(group),
    ...shown(mg),
  }));
  const total = [...(used?.mg.values() ?? [])].reduce(add, ZERO);
  const ofKind = (is: (one: MedicineFacts) => boolean) =>
    doses.filter(({ medicine }) => is(facts.get(medicine) ?? NO_FACTS));
  return {
    year: Number(year),
    to,
    isRunning,
    antimicrobials: groups.toSorted((a, b) => placeOf(a.group) - placeOf(b.group)),
    total: {
      ...shown(total),
      ...(total.n === 0n ? { text: (used?.missing.length ?? 0) > 0 ? 'not known' : 'none' } : {}),
    },
    doses: ofKind((one) => one.isAntimicrobial).reduce((sum, { heads }) => sum + heads, 0),
    missing: used?.missing ?? [],
    weight: {
      ...optional('ownKg', ownKg && toPlaces(ownKg, 1)),
      ownText: says,
      pcuKg: toDecimal(pcuKg),
      living,
      slaughtered,
      standardText: standard.says,
    },
    parasites: parasiteRows(
      ofKind((one) => one.parasiteGroups.length > 0),
      facts,
    ),
    vaccines: ofKind((one) => one.isVaccine).map(({ medicine, heads }) => {
      const name = facts.get(medicine)?.name ?? medicine;
      return { key: medicine, name, doses: heads, medicines: [name] };
    }),
    working: [
      ...(used?.working ?? []),
      { code: 'own-weight', text: says.join(' ') },
      {
        code: 'pcu-weight',
        text: [
          ...standard.says,
          `${living} living × ${rules.livingKg} kg + ${slaughtered} slaughtered × ${rules.slaughteredKg} kg = ${toDecimal(pcuKg)} kg`,
        ].join(' '),
        source: saysSource(rules),
      },
    ],
  };
}

const ORDER: readonly string[] = [...SUBSTANCE_GROUPS, NOT_SAID];

/** Groups stand in the same order in every year, so that years are compared line by line; what is not said yet is last. */
function placeOf(group: string): number {
  return ORDER.indexOf(group);
}

/** Two digits after the point; of what is less than a tenth two figures, so that a little is not shown as nothing. */
function quotient(mg: Fraction, kg: Fraction): string {
  const each = divide(mg, kg);
  return compare(each, fraction(1, 10n)) < 0 ? toSignificant(each, 2) : toPlaces(each, 2);
}

/** The words of a group, also of what nobody has named yet. */
export function groupName(group: string): string {
  return group === NOT_SAID ? 'Group not said yet' : groupWords(group);
}

/** Heads dosed against parasites by group: a medicine of two groups counts in both. */
function parasiteRows(
  doses: readonly Doses[],
  facts: ReadonlyMap<string, MedicineFacts>,
): Use['years'][number]['parasites'] {
  const rows = new Map<string, Use['years'][number]['parasites'][number]>();
  for (const { medicine, heads } of doses) {
    const { name, parasiteGroups } = facts.get(medicine) ?? NO_FACTS;
    for (const group of parasiteGroups) {
      const so = rows.get(group) ?? { key: group, name: groupName(group), doses: 0, medicines: [] };
      rows.set(group, { ...so, doses: so.doses + heads, medicines: [...so.medicines, name] });
    }
  }
  return [...rows.values()].toSorted((a, b) => b.doses - a.doses);
}

type MedicineFacts = {
  name: string;
  isAntimicrobial: boolean;
  isVaccine: boolean;
  /** "not-said" for a remedy whose group nobody has named. */
  parasiteGroups: string[];
};
const NO_FACTS: MedicineFacts = { name: '', isAntimicrobial: false, isVaccine: false, parasiteGroups: [] };

/** What each medicine counts as, by its newest label. */
export function medicineFacts(tx: Reader, substances: Substances): Map<string, MedicineFacts> {
  const found = new Map<string, MedicineFacts>();
  for (const { medicine, terms } of labelsByRevision(tx).values()) {
    const groups = terms.actives.flatMap((active) => {
      const group = substances.said(active)?.group;
      if (isParasiteGroup(group)) return [group];
      return group === undefined && terms.purpose === 'parasites' ? [NOT_SAID] : [];
    });
    found.set(medicine, {
      name: terms.name,
      isVaccine: terms.purpose === 'vaccine',
      isAntimicrobial: terms.purpose === 'antibiotic' || antimicrobialsIn(terms, substances).length > 0,
      parasiteGroups:
        groups.length === 0 && terms.purpose === 'parasites' && terms.actives.length === 0
          ? [NOT_SAID]
          : [...new Set(groups)],
    });
  }
  return found;
}

/** Purposes whose substances are asked about. */
const ASKED: ReadonlySet<string> = new Set(['antibiotic', 'parasites']);

/** Every substance that a label names where a group matters, or of which something was said; what is open first. */
function substanceRows(tx: Reader, substances: Substances): Use['substances'] {
  const rows = new Map<string, Use['substances'][number]>();
  for (const { terms } of labelsByRevision(tx).values()) {
    for (const active of terms.actives) {
      const said = substances.said(active);
      if (said === undefined && !ASKED.has(terms.purpose)) continue;
      const key = JSON.stringify([active.substance.toLowerCase(), active.salt?.toLowerCase()]);
      const so = rows.get(key);
      const published = substances.published(active, terms.piece);
      const lack = substances.toMg(active, terms.piece);
      const isCounted = antimicrobialsIn(terms, substances).some((one) => one.active === active);
      const needs = [
        ...(said === undefined ? (['group'] as const) : []),
        ...(isCounted && (lack === 'iu' || lack === 'salt') ? [lack] : []),
      ];
      rows.set(key, {
        substance: active.substance,
        ...optional('salt', active.salt),
        ...optional('group', said?.group),
        ...optional('iuToMg', said?.iuToMg),
        ...optional('saltFactor', said?.saltFactor),
        ...optional('published', so?.published ?? (published && factorShown(published))),
        medicines: [...new Set([...(so?.medicines ?? []), terms.name])],
        needs: [...new Set([...(so?.needs ?? []), ...needs])],
      });
    }
  }
  return [...rows.values()].toSorted(
    (a, b) =>
      Math.sign(b.needs.length) - Math.sign(a.needs.length) || a.substance.localeCompare(b.substance, 'en'),
  );
}

function factorShown({ kind, value, source }: { kind: 'iu' | 'salt'; value: string; source: string }) {
  return { kind, value, source };
}

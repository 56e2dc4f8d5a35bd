import type { Happened } from '../../../src-shared/entries/kind.ts';
import { type NotIfFinding, notIfFindings } from '../../../src-shared/label/not-if.ts';
import { daysOf } from '../../../src-shared/label/not-if-breeding.ts';
import type { GroupDates, OtherMedicine } from '../../../src-shared/label/not-if-facts.ts';
import { substancesOf } from '../../../src-shared/label/not-if-substance.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import type { Weight } from '../../../src-shared/quantity/weight.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { startOfDay } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Before, givenTo, knownSince } from '../reading/given-before.ts';
import { groupDatesOn } from '../reading/group-dates.ts';
import { newestRevision } from '../reading/revision.ts';
import type { SubjectRow } from '../reading/subjects.ts';

/** One medicine for one subject, about which the label's "not if" rows are asked. */
export type NotIfAsk = {
  row: SubjectRow;
  terms: LabelTerms;
  medicine: string;
  weight?: Weight | undefined;
  /** When the weight is the book's: the day it is of. */
  weighedOn?: string | null | undefined;
  when: Happened;
  /** Medicines given at the same time: those of the other lines. */
  together?: readonly string[] | undefined;
  /** The administration that is decided anew: it is no treatment before itself. */
  except?: string | undefined;
  /** The course this dose belongs to. */
  course?: string | undefined;
};

export type NotIfReader = { findings(asked: NotIfAsk): NotIfFinding[] };

/** Medicines of the other lines that are given with one. */
export function besides<L extends { medicine: string }>(lines: readonly L[], line: L): string[] {
  return lines.filter((other) => other !== line).map(({ medicine }) => medicine);
}

const GROUP_CODES = new Set(['pregnant-from-to', 'before-lambing', 'shorn-within']);
const GIVEN_CODES = new Set(['same-substance-within', 'not-with']);
const of = (terms: LabelTerms, codes: ReadonlySet<string>) =>
  terms.notIf.filter((row) => codes.has(row.code));

/**
 * Reads what the "not if" rows hang on, and no more than the rows of a label need.
 * @param ahead subjects that will be asked about: their facts are read in one go, once
 */
export function notIfReader(tx: Reader, ahead: readonly string[] = []): NotIfReader {
  const groups = new Map<string, Map<string, GroupDates[]>>();
  const given = new Map<string, Map<string, Before[]>>();
  const since = new Map<string, Map<string, Day>>();
  const others = new Map<string, OtherMedicine>();

  /** The facts of one kind for a subject, those of everybody named ahead read together. */
  function once<T>(
    known: Map<string, Map<string, T>>,
    key: string,
    subject: string,
    read: (of: string[]) => Map<string, T>,
  ) {
    const all = known.get(key) ?? (ahead.length === 0 ? new Map<string, T>() : read([...ahead]));
    known.set(key, all);
    if (!all.has(subject) && !ahead.includes(subject)) {
      const one = read([subject]).get(subject);
      if (one !== undefined) all.set(subject, one);
    }
    return all.get(subject);
  }

  function other(medicine: string): OtherMedicine {
    const found = others.get(medicine);
    if (found) return found;
    const { terms } = newestRevision(tx, medicine);
    const made = { name: terms.name, substances: substancesOf(terms) };
    others.set(medicine, made);
    return made;
  }

  function before(asked: NotIfAsk): Before[] {
    const { row, terms, when, except, medicine, course } = asked;
    const days = of(terms, GIVEN_CODES).map((rule) =>
      rule.code === 'not-with' ? (rule.to === undefined ? 0 : daysOf(rule.to)) : daysOf(rule.value),
    );
    const first = addDays(when.local.slice(0, 10) as Day, -Math.max(...days) - 1);
    const span = { from: startOfDay(first, when.zone), to: when.at };
    const list = once(given, `${span.from} ${span.to}`, row.subject, (subjects) =>
      givenTo(tx, subjects, span, when.zone),
    );
    return (list ?? []).filter(
      (each) =>
        (each.administration === undefined || each.administration !== except) &&
        // The next dose of a course that is under way is what the label orders, and no repeat of it.
        !(
          each.medicine === medicine &&
          each.openCourse !== undefined &&
          (course ?? each.openCourse) === each.openCourse
        ),
    );
  }

  return {
    findings(asked) {
      const { row, terms, weight, when } = asked;
      if (terms.notIf.length === 0) return [];
      const zone = when.zone;
      const asksGroups = of(terms, GROUP_CODES).length > 0;
      const asksGiven = of(terms, GIVEN_CODES).length > 0;
      return notIfFindings(terms, {
        day: when.local.slice(0, 10) as Day,
        class: row.class,
        sex: row.sex ?? undefined,
        weight,
        weighedOn: (asked.weighedOn?.slice(0, 10) as Day | undefined) ?? undefined,
        born: (row.born as Day | null) ?? undefined,
        milking: row.milking === 1,
        groups: asksGroups
          ? (once(groups, zone, row.subject, (subjects) => groupDatesOn(tx, subjects, zone)) ?? [])
          : [],
        given: asksGiven ? before(asked) : [],
        knownSince: asksGiven
          ? once(since, zone, row.subject, (subjects) => knownSince(tx, subjects, zone))
          : undefined,
        together: asksGiven ? (asked.together ?? []).map(other) : [],
      });
    },
  };
}

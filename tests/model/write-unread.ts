import { headsRecorded, sessionOf } from '../../src-main/answers/treat/session.ts';
import { unsureIn } from '../../src-main/answers/treat/unsure.ts';
import type { Store } from '../../src-main/store/store.ts';
import type { Happened } from '../../src-shared/entries/kind.ts';
import { type Administered, AMOUNT, type penOn, ROUTE } from './pen.ts';
import type { StepScript } from './script.ts';

type Unread = Extract<StepScript, { do: 'unread' }>;

/** Work at the race in which some went through without a record, or with one of some medicines alone. */
export function unreadOn(store: Store, pen: ReturnType<typeof penOn>) {
  const { add, at, one, subjects, classes, holds } = pen;

  function open(step: Unread, id: string): void {
    const opens = [at(step.opens), at(step.closes)].sort((a, b) => (a.at < b.at ? -1 : 1))[0] as Happened;
    const chosen = [...new Set(step.subjects.map((pick) => one(subjects(), pick) ?? ''))];
    const lines = step.lines.map(({ revision, line }, i) => ({
      line: `${i}`,
      medicine: 'm0',
      revision: `v${revision % 3}`,
      doseLine: line,
      source: 'ours' as const,
      containers: [],
      reason: 'invented',
    }));
    const doses = (i: number) => lines.map((_line, j) => (i === 1 && j === 1 ? null : AMOUNT(1)));
    const plan = chosen.map((subject, i) => ({ subject, heads: 1, doses: doses(i) }));
    add(
      'session-opened',
      { session: id, holding: 'h', name: id, mode: 'each', lines, subjects: plan, leftOut: [] },
      opens,
    );
    // Some have a record of the first medicine.
    for (const [i, subject] of chosen.entries()) {
      const line = (step.subjects[i] ?? 0) % 2 === 0 ? undefined : lines[0];
      if (line === undefined) continue;
      const data: Administered = {
        administration: `${id}.${i}`,
        holding: 'h',
        subject,
        heads: 1,
        medicine: line.medicine,
        product: 'Ovimendol',
        session: id,
        line: line.line,
        doseLine: line.doseLine,
        source: { kind: 'vet', revision: line.revision },
        class: classes.get(subject) ?? 'lamb',
        dose: AMOUNT(1),
        total: AMOUNT(1),
        sites: [],
        route: ROUTE[line.doseLine],
        reason: 'invented',
        givenBy: 'p',
        deviations: [],
        holds: [],
        working: [],
      };
      add('administered', { ...data, holds: pen.holdsFor(data, opens, pen.house()) }, opens);
    }
  }

  /** Closes it as the desk does, by what is in the book: of some is said that they got none of the last medicine. */
  function close(step: Unread, id: string): void {
    const session = sessionOf(store.read, id);
    const [opens, closes] = [at(step.opens), at(step.closes)].sort((a, b) => (a.at < b.at ? -1 : 1)) as [
      Happened,
      Happened,
    ];
    const recorded = headsRecorded(store.read, id);
    // A count that fits holds nobody but those with a record of another medicine.
    const missing = step.closes.day % 4 === 3 ? 0 : 9;
    const last = session.plan.lines.at(-1)?.line ?? '';
    const gotNone = session.plan.subjects
      .filter((_one, i) => (step.subjects[i] ?? 0) % 5 === 1)
      .map(({ subject }) => ({ subject, lines: [last] }));
    const unsure = unsureIn(store.read, session, { missing, notThrough: [], gotNone });
    add(
      'session-closed',
      {
        session: id,
        headsThrough: recorded + missing,
        headsRecorded: recorded,
        unread: unsure.map(({ row }) => row.subject),
        used: [],
        ...(gotNone.length === 0 ? {} : { gotNone }),
      },
      closes,
    );
    for (const { row, lines } of unsure) {
      const { subject } = row;
      const hold = `${id}.${subject}`;
      const got = lines.map(({ revision, doseLine }) => ({
        revision,
        doseLine: doseLine as 'first' | 'second',
      }));
      holds.push({ hold, subject });
      pen.unreads.push({ hold, subject, lines: got, closed: closes.local });
      const decided = pen.unreadHolds(subject, got, closes.local, pen.house());
      const of = lines.map(({ line }) => line);
      add(
        'held',
        {
          hold,
          subject,
          cause: 'possibly-treated',
          session: id,
          lines: of,
          holds: decided,
          why: 'no record',
        },
        opens,
      );
    }
  }

  return { open, close };
}

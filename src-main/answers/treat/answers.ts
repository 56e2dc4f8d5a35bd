import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { treatCalls } from '../../../src-shared/calls/treat.ts';
import { notIfFindings } from '../../../src-shared/label/not-if.ts';
import { baseOf } from '../../../src-shared/quantity/amount.ts';
import { parseWeight, printWeight, weightQuestion } from '../../../src-shared/quantity/weight.ts';
import { attempt, Refusal } from '../../../src-shared/refusal.ts';
import { instantOf, localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Warning } from '../../../src-shared/working.ts';
import { type Answers, type Context, write } from '../context.ts';
import { type Holding, holdingOf, onlyHolding } from '../reading/holding.ts';
import { shownOf, subjectOfName } from '../reading/subjects.ts';
import { closeCourse, closeSession, resolvePossible } from './close.ts';
import { ageOn, lineFor, workedDose } from './core.ts';
import { openCourses } from './courses.ts';
import { treat } from './give.ts';
import { treatMany } from './mass.ts';
import { planSession, revisionForLine, shownDose, shownDraw, weightOf } from './plan.ts';
import { doneIn, listSessions, sessionOf, showSession } from './session.ts';
import { shelfOf } from './shelf.ts';

/** A local time as it stands, in the holding's zone; now when none is said. */
function whenIn(context: Context, holding: Holding | undefined, local?: string) {
  const zone = holding?.zone ?? 'UTC';
  const now = context.now();
  if (local === undefined) return { local: localOf(parseInstant(now, 'clock'), zone), zone, at: now };
  return { local, zone, at: instantOf(local, zone, 'start') };
}

function doseFor(context: Context, asked: Asked<'dose-for'>): Reply<'dose-for'> {
  const tx = context.store.read;
  const session = sessionOf(tx, asked.session);
  const holding = holdingOf(tx, session.plan.holding);
  const row = subjectOfName(tx, asked.subject);
  const when = whenIn(context, holding);
  const last = weightOf(row);
  const weight =
    asked.weight === undefined ? last : parseWeight(asked.weight, 'weight', { unit: holding.weightUnit });
  const shelf = shelfOf(tx);
  const stops: Warning[] = [];
  const done = doneIn(tx, session.id).get(row.subject);
  if (done) stops.push({ code: 'already-treated', text: `${row.shown} was already treated in this session` });
  if (row.present !== 1) stops.push({ code: 'gone', text: `${row.shown} is no longer here by the book` });
  const question = asked.weight === undefined || !weight ? undefined : weightQuestion(weight, last);
  if (question) stops.push(question);
  const leftOut = session.plan.leftOut.find((item) => item.subject === row.subject);
  if (leftOut) stops.push({ code: 'left-out', text: `Left out when planned: ${leftOut.why.text}` });

  const doses = session.plan.lines.map((line) => {
    const { revision, strength } = revisionForLine(tx, shelf, line, when);
    const { terms } = revision;
    const answer = attempt(() => {
      const doseLine = lineFor(terms, line.doseLine, row.class);
      const worked = workedDose(
        terms,
        doseLine,
        {
          holding,
          subject: row,
          heads: row.heads,
          medicine: line.medicine,
          source: line.source,
          reason: line.reason,
          weight,
          givenBy: '',
          happened: when,
          syringe: line.syringe,
        },
        strength,
      );
      const barred = notIfFindings(terms, {
        class: row.class,
        weight,
        ageDays: ageOn(row.born, when.local),
        milking: row.milking === 1,
      }).find((finding) => finding.applies === 'yes');
      if (barred) throw new Refusal('not-if', barred.text, { field: 'subject' });
      return worked;
    });
    const units = answer.ok ? baseOf(answer.value.draw) * row.heads : 0;
    const plan = line.source === 'ours' ? shelf.plan(line.medicine, units, when).draws : [];
    return {
      line: line.line,
      name: terms.name,
      route: terms.doseLines.find((each) => each.id === line.doseLine)?.route ?? '',
      dose: answer.ok ? shownDose(answer.value, terms.piece) : null,
      ...(answer.ok ? {} : { refused: { code: answer.error.code, text: answer.error.message } }),
      draws: plan.map((draw) => shownDraw(draw, terms.kind, terms.piece)),
    };
  });
  return {
    who: {
      ...shownOf(row),
      ...(weight ? { weight: printWeight(weight) } : {}),
      // The day belongs to the weight of the book, not to one that was typed just now.
      ...(row.weighed_on === null || asked.weight !== undefined ? {} : { weighedOn: row.weighed_on }),
    },
    doses,
    stops,
  };
}

/** Planning, running and closing work at the race. */
export const treatAnswers: Answers<keyof typeof treatCalls> = {
  'plan-session'(context, asked) {
    const tx = context.store.read;
    const when = whenIn(context, holdingOf(tx, asked.holding), asked.on);
    return planSession(tx, shelfOf(tx), asked, when, '', asked.weight).reply;
  },
  'open-session'(context, asked) {
    return write<'open-session'>(context, asked, (act) => {
      const holding = holdingOf(act.tx, asked.holding);
      const happened = act.happened(holding);
      const plan = planSession(act.tx, shelfOf(act.tx), asked, happened, asked.by);
      if (plan.subjects.length === 0) {
        const first = plan.leftOut[0]?.why.text ?? 'nobody was chosen';
        throw new Refusal('nobody-to-treat', `Nobody can be treated by this plan: ${first}`, {
          field: 'subjects',
          next: 'Look at who is left out and why.',
        });
      }
      const session = act.id();
      act.add(
        'session-opened',
        {
          session,
          holding: asked.holding,
          name: asked.name,
          mode: asked.mode,
          lines: plan.lines,
          subjects: plan.subjects,
          leftOut: plan.leftOut,
          ...(asked.mark === undefined ? {} : { mark: asked.mark }),
          ...(asked.sharpsOut === undefined ? {} : { sharpsOut: asked.sharpsOut }),
        },
        happened,
      );
      return { session, planned: plan.subjects.length, leftOut: plan.leftOut.length };
    });
  },
  sessions: (context, asked) => listSessions(context.store.read, asked.state, asked.limit),
  session: (context, asked) =>
    showSession(context.store, asked.session, onlyHolding(context.store.read)?.zone ?? 'UTC'),
  'dose-for': doseFor,
  treat,
  'treat-many': treatMany,
  'close-session': closeSession,
  'resolve-possible': resolvePossible,
  courses: (context, asked) => ({ courses: openCourses(context.store.read, asked.subject) }),
  'close-course': closeCourse,
};

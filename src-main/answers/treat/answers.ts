import type { treatCalls } from '../../../src-shared/calls/treat.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import { type Answers, write } from '../context.ts';
import { holdingOf, onlyHolding } from '../reading/holding.ts';
import { closeCourse, closeSession, resolvePossible } from './close.ts';
import { openCourses } from './courses.ts';
import { doseFor } from './dose-for.ts';
import { treat } from './give.ts';
import { treatMany } from './mass.ts';
import { planSession } from './plan.ts';
import { listSessions, showSession } from './session.ts';
import { shelfOf } from './shelf.ts';
import { whenIn } from './when.ts';
import { workSheet } from './work-sheet.ts';

/** Planning, running and closing work at the race. */
export const treatAnswers: Answers<keyof typeof treatCalls> = {
  'plan-session'(context, asked) {
    const tx = context.store.read;
    const when = whenIn(context, holdingOf(tx, asked.holding), asked.on);
    return planSession(tx, shelfOf(tx), asked, when, '', asked.weight, asked.courseDays).reply;
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
  session(context, asked) {
    const zone = onlyHolding(context.store.read)?.zone ?? 'UTC';
    const today = dayOf(parseInstant(context.now(), 'clock'), zone);
    return showSession(context.store, asked.session, zone, today);
  },
  'work-sheet': workSheet,
  'dose-for': doseFor,
  treat,
  'treat-many': treatMany,
  'close-session': closeSession,
  'resolve-possible': resolvePossible,
  courses: (context, asked) => ({ courses: openCourses(context.store.read, asked.subject) }),
  'close-course': closeCourse,
};

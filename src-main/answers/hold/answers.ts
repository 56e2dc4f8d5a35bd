import type { holdCalls } from '../../../src-shared/calls/hold.ts';
import type { organicCalls } from '../../../src-shared/calls/organic.ts';
import type { Answers } from '../context.ts';
import { atFoot, setAtFoot } from './at-foot.ts';
import { dateHold } from './date-hold.ts';
import { noteEvent } from './events.ts';
import { marksFading } from './marks.ts';
import { certificates, exceptFromOrganic, organicStandingOf, setCertificate } from './organic.ts';
import { organicCourses } from './organic-courses.ts';
import { whyHeld } from './why.ts';

/** Holds: what they wait for, whose word dates them, who carries them, and why. */
export const holdAnswers: Answers<keyof typeof holdCalls | keyof typeof organicCalls> = {
  'note-event': noteEvent,
  'why-held': whyHeld,
  'date-hold': dateHold,
  'set-at-foot': setAtFoot,
  'at-foot': atFoot,
  'set-certificate': setCertificate,
  certificates,
  'except-from-organic': exceptFromOrganic,
  'organic-courses': organicCourses,
  'organic-standing': organicStandingOf,
  'marks-fading': marksFading,
};

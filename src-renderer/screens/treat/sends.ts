import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { weighedHowOf } from '../../parts/weight-values.ts';
import { leakedOf } from './leaked-values.ts';
import { isInjected, routeOf, sideOf } from './words.ts';

export type DoseFor = Reply<'dose-for'>;
export type LineDose = DoseFor['doses'][number];
export type TreatAsk = Omit<Ask<'treat'>, 'request' | 'by' | 'confirmed'>;

/** What was typed for one animal, and what goes on from one to the next (site, side, needle, who gives it). */
export type RunValues = Readonly<Record<string, string>>;

const perLine = ['given', 'route', 'bottle', 'leaked', 'lost', 'lostWhy', 'instruction'] as const;

/** The fields of the race, empty. One set of the fields about what was different for each medicine. */
export function emptyRun(lines: readonly { line: string }[]): Record<string, string> {
  const values: Record<string, string> = {
    read: '',
    subject: '',
    weight: '',
    weightHow: 'scale',
    girth: '',
    length: '',
    heads: '',
    site: '',
    side: '',
    needle: '',
    givenBy: '',
  };
  for (const { line } of lines) for (const name of perLine) values[`${name}.${line}`] = '';
  return values;
}

/** The fields after one animal: what goes on from one to the next stays, the rest is empty. */
export function afterOne(values: RunValues): Record<string, string> {
  const kept = ['site', 'side', 'needle', 'givenBy', 'weightHow'];
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, kept.includes(name) ? value : '']),
  );
}

const said = (values: RunValues, name: string): string => (values[name] ?? '').trim();

/** True when something is written about this medicine that is not as worked out. */
function isOtherwise(values: RunValues, line: string): boolean {
  return perLine.some((name) => said(values, `${name}.${line}`) !== '');
}

/** The medicines that this animal gets: those worked out, and those refused of which is said how much went in. */
export function givenLines(dose: DoseFor, values: RunValues): readonly LineDose[] {
  return dose.doses.filter((each) => each.dose !== null || said(values, `given.${each.line}`) !== '');
}

/** Where it went in: what was said, else what stood on the screen as suggested. */
function whereSent(
  suggested: LineDose['where'],
  values: RunValues,
): Pick<TreatAsk, 'site' | 'side' | 'needle'> {
  const side = sideOf(said(values, 'side'));
  const site = said(values, 'site');
  const needle = said(values, 'needle') || suggested?.needle;
  const isSaid = site !== '' || side !== undefined;
  return {
    ...(isSaid || suggested === undefined ? {} : { site: suggested.site, side: suggested.side }),
    ...(site === '' ? {} : { site }),
    ...(side === undefined ? {} : { side }),
    ...(needle === undefined ? {} : { needle }),
  };
}

/**
 * The writing calls for one animal. As worked out it is one call for all medicines; where something was
 * different it is one for each, because an amount, a bottle or a loss is of one medicine. The weight is
 * written once, with the first.
 */
export function sendsOf(session: string, dose: DoseFor, values: RunValues): readonly TreatAsk[] {
  const lines = givenLines(dose, values);
  const { subject, heads } = dose.who;
  const weight = said(values, 'weight');
  const counted = said(values, 'heads');
  const givenBy = said(values, 'givenBy');
  const about = (part: readonly LineDose[], isFirst: boolean): TreatAsk => {
    const isNeedle = part.some((each) => isInjected(each.route));
    return {
      session,
      lines: part.map((each) => each.line),
      subject,
      ...(heads > 1 && counted !== '' ? { heads: Number(counted) } : {}),
      ...(isFirst && weight !== '' ? { weight, weightHow: weighedHowOf(said(values, 'weightHow')) } : {}),
      ...(givenBy === '' ? {} : { givenBy }),
      ...(isNeedle ? whereSent(part.find((each) => each.where !== undefined)?.where, values) : {}),
    };
  };
  if (lines.length === 0) return [];
  // Two injections of one animal go to two places.
  const isTwice = lines.filter((each) => isInjected(each.route)).length > 1;
  if (!isTwice && !lines.some((each) => isOtherwise(values, each.line))) return [about(lines, true)];
  return lines.map((each, n) => {
    const { line } = each;
    const given = said(values, `given.${line}`);
    const bottle = said(values, `bottle.${line}`);
    const lost = said(values, `lost.${line}`);
    const leaked = leakedOf(said(values, `leaked.${line}`));
    const route = routeOf(said(values, `route.${line}`));
    const instruction = said(values, `instruction.${line}`);
    return {
      ...about([each], n === 0),
      ...(given === '' ? {} : { given }),
      ...(route === undefined ? {} : { route }),
      ...(instruction === '' ? {} : { instruction }),
      ...(bottle === '' ? {} : { containers: [bottle] }),
      ...(leaked === undefined ? {} : { leaked }),
      ...(lost === '' ? {} : { lost: { amount: lost, why: said(values, `lostWhy.${line}`) || 'Spilt' } }),
    };
  });
}

/** Questions that concern the animal and are asked as soon as it is named; weights are asked about when typed. */
export function stopsAtOnce(dose: DoseFor, standing: 'waiting' | 'done' | 'left-out' | 'not-planned') {
  const stops = dose.stops.filter(
    // Somebody who gets one of the medicines is planned: what is left out stands beside the dose.
    (stop) => !(stop.code === 'left-out' && standing === 'waiting'),
  );
  if (standing === 'not-planned' && !stops.some((stop) => stop.code === 'already-treated')) {
    return [...stops, { code: 'not-planned', text: `${dose.who.shown} is not on the plan of this session` }];
  }
  return stops;
}

import type { Page } from 'playwright-core';
import { addressOf, type RoutePath } from '../../src-renderer/routes.ts';
import type { Ask, CallName, Reply } from '../../src-shared/calls/all.ts';

/** One picture: where it is, and what is done there before it is taken. */
export type View = {
  readonly name: string;
  readonly at: string;
  /** Pressed one after the other once the screen is there. */
  readonly keys?: readonly string[];
  /** Leads the page to where the picture is taken. */
  readonly lead?: (page: Page) => Promise<void>;
};

/** Asks the desk of the book that is shown; throws when it refuses. */
export type AskDesk = <N extends CallName>(name: N, request: object) => Promise<Reply<N>>;

const at = (path: RoutePath, params: Record<string, string> = {}): string => addressOf(path, params);

/** The places themselves and what is one key away: the same on any book. */
const EVERYWHERE: readonly View[] = [
  { name: 'today', at: at('today') },
  { name: 'cabinet', at: at('cabinet') },
  { name: 'cabinet-label', at: at('cabinet/label') },
  { name: 'cabinet-make-up', at: at('cabinet/make-up') },
  { name: 'cabinet-drawer', at: at('cabinet/drawer') },
  { name: 'cabinet-stocktake', at: at('cabinet/stocktake') },
  { name: 'cabinet-disposals', at: at('cabinet/disposals') },
  { name: 'flock', at: at('flock') },
  { name: 'flock-vaccines', at: at('flock/vaccines') },
  { name: 'flock-import', at: at('flock/import') },
  { name: 'treat', at: at('treat') },
  { name: 'treat-plan', at: at('treat/plan') },
  { name: 'treat-one', at: at('treat/one') },
  { name: 'treat-emergency', at: at('treat/emergency') },
  { name: 'work-out', at: at('work-out') },
  { name: 'work-out-dose', at: at('work-out/:topic', { topic: 'dose' }) },
  { name: 'work-out-needle', at: at('work-out/:topic', { topic: 'needle' }) },
  { name: 'book', at: at('book') },
  { name: 'declare', at: at('declare') },
  { name: 'declare-new', at: at('declare/new') },
  { name: 'order', at: at('order') },
  { name: 'farm', at: at('farm') },
  { name: 'farm-equipment', at: at('farm/equipment') },
  { name: 'farm-needles', at: at('farm/needles') },
  { name: 'palette', at: at('today'), keys: ['Control+k'] },
  { name: 'keys', at: at('today'), keys: ['?'] },
];

/** The views of a book in which there is nothing but a farm. */
export const emptyViews = (): readonly View[] => EVERYWHERE;

/** Work at the race with the dose of one ewe on the screen. */
function raceLead(tag: string): (page: Page) => Promise<void> {
  return async (page) => {
    // The desk keeps what is half typed: after the first picture the ewe is there already.
    await page.locator('[name=read]:focus, [name=weight]:focus').waitFor();
    if ((await page.locator('[name=read]').count()) > 0) {
      await page.keyboard.type(tag);
      await page.keyboard.press('Enter');
      await page.locator('[name=weight]:focus').waitFor();
    }
    await page.keyboard.press('Enter');
    await page.locator('[name=record]:focus').waitFor();
  };
}

/** The first of some rows, or an error that says what the demo lacks. */
function first<T>(rows: readonly T[], what: string): T {
  const [one] = rows;
  if (one === undefined) throw new Error(`the demo has no ${what} to make a picture of`);
  return one;
}

/**
 * The views of the demo farm. Opens a session of its own, so the book must be a copy that nobody else looks at.
 * @param by the person who opens it
 * @param requestId a new id each time
 */
export async function demoViews(
  ask: AskDesk,
  by: string,
  day: string,
  requestId: () => string,
): Promise<readonly View[]> {
  const { containers } = await ask('cabinet', {});
  const open = containers.filter((one) => one.state === 'open');
  const bottle = first(open.length > 0 ? open : containers, 'container');
  const { medicines } = await ask('medicines', {});
  const farm = await ask('farm', {});
  const holding = first(farm.holdings, 'holding').holding;
  const { groups } = await ask('groups', {});
  const group = first(
    groups.filter((one) => one.heads >= 20),
    'group of 20',
  );
  const onShelf = medicines.filter(
    (one) => one.form === 'injection' && containers.some(isUsable(one.medicine)),
  );
  const injection = first(
    await byWeight(ask, onShelf, { holding, groups: [group.group] }),
    'injection by weight',
  );
  const vaccine = first(
    medicines.filter((one) => one.purpose === 'vaccine'),
    'vaccine',
  );
  const session = { holding, groups: [group.group], lines: [lineOf(injection.medicine)] };
  const request = (more: object) => ({ request: requestId(), by, ...session, ...more });
  const each = await ask('open-session', request({ name: 'Lame ewes (DEMO)', mode: 'each' }));
  const mass = await ask('open-session', request({ name: 'All at once (DEMO)', mode: 'mass' }));
  const { waiting } = await ask('session', { session: each.session });
  const ewe = first(waiting, 'ewe that waits');
  const { rows } = await ask('book', { from: `${Number(day.slice(0, 4)) - 1}${day.slice(4)}`, to: day });
  const line = first(rows.filter((row) => row.state === 'stands').toReversed(), 'treatment');
  // Another group: those of the open work sheets would be asked about one by one.
  const others = groups.filter((one) => one.group !== group.group);
  const { members } = await ask('group', { group: first(others, 'second group').group });
  const going = members.slice(0, 6).map((one) => one.subject);
  await ask('keep-draft', { form: 'declare/new', value: { holding, to: 'Invented abattoir (DEMO)', going } });

  return [
    ...EVERYWHERE.filter((view) => view.name !== 'declare-new'),
    { name: 'cabinet-bottle', at: at('cabinet/container/:container', { container: bottle.container }) },
    { name: 'cabinet-medicine', at: at('cabinet/medicine/:medicine', { medicine: injection.medicine }) },
    {
      name: 'cabinet-new-insert',
      at: at('cabinet/label/:medicine/new-insert', { medicine: injection.medicine }),
    },
    { name: 'flock-animal', at: at('flock/subject/:subject', { subject: line.subject }) },
    { name: 'flock-group', at: at('flock/group/:group', { group: group.group }) },
    {
      name: 'treat-run',
      at: at('treat/session/:session', { session: each.session }),
      lead: raceLead(ewe.shown),
    },
    { name: 'treat-mass', at: at('treat/session/:session', { session: mass.session }) },
    {
      name: 'book-line',
      at: at('book/treatment/:administration', { administration: line.administration }),
    },
    { name: 'flock-held', at: at('flock/held') },
    { name: 'book-gaps', at: at('book/gaps') },
    { name: 'book-paper', at: at('book/paper') },
    { name: 'book-pack', at: at('book/pack') },
    {
      name: 'book-correct',
      at: at('book/correct/:administration', { administration: line.administration }),
    },
    { name: 'book-use', at: at('book/use') },
    { name: 'book-use-heads', at: at('book/use/heads') },
    { name: 'book-vet', at: at('book/vet') },
    { name: 'book-vet-visit', at: at('book/vet/visit') },
    { name: 'farm-record', at: at('farm/record') },
    { name: 'farm-training', at: at('farm/training') },
    { name: 'book-cost', at: at('book/cost') },
    { name: 'order-outlook', at: at('order/outlook/:medicine', { medicine: vaccine.medicine }) },
    { name: 'declare-preview', at: at('declare/new') },
    { name: 'declare-clear', at: at('declare/clear') },
  ];
}

const isUsable = (medicine: string) => (one: Reply<'cabinet'>['containers'][number]) =>
  one.medicine === medicine && (one.state === 'sealed' || one.state === 'open');

function lineOf(medicine: string): Ask<'open-session'>['lines'][number] {
  return { medicine, reason: 'Lameness', syringe: { capacity: '5 mL', graduation: '0.1 mL' } };
}

/**
 * Those of the medicines whose dose for the group is worked out from a weight, which has most to show, and needs no
 * warning; first those whose label speaks in the unit of the scale.
 */
async function byWeight<T extends { medicine: string }>(
  ask: AskDesk,
  medicines: readonly T[],
  who: { holding: string; groups: string[] },
): Promise<T[]> {
  const fit: { one: T; isConverted: boolean }[] = [];
  for (const one of medicines) {
    const { rows } = await ask('plan-session', { ...who, lines: [lineOf(one.medicine)] });
    const codes = rows.flatMap((row) => row.doses[0]?.working ?? []).map((step) => step.code);
    const isPlain = rows.every((row) => row.doses.every((dose) => dose?.warnings.length === 0));
    if (codes.includes('by-weight') && isPlain)
      fit.push({ one, isConverted: codes.includes('kilograms-to-pounds') });
  }
  return fit.toSorted((a, b) => Number(a.isConverted) - Number(b.isConverted)).map(({ one }) => one);
}

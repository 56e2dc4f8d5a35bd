import type { Reply } from '../src-shared/calls/all.ts';
import { PEOPLE, type PersonKey } from './farm.ts';
import { chipOf, NAMED, tagOf } from './flock/animals.ts';
import { MEDICINES, type MedicineKey } from './medicines/all.ts';
import type { Player, Said } from './player.ts';

/** What the chapters of the demo know of the book so far, and the work that comes again and again. */
export type Scenario = ReturnType<typeof scenarioOf>;
type Single = NonNullable<Said<'treat'>['single']>;
type Batch = Omit<Said<'receive-batch'>, 'medicine' | 'supplier'> & { from: 'stores' | 'dispensary' };

export type Work = {
  name: string;
  medicine: MedicineKey;
  doseLine?: string;
  reason: string;
  by: PersonKey;
  groups?: string[];
  subjects?: string[];
  line?: Partial<Single>;
  mark?: Said<'open-session'>['mark'];
  sharpsOut?: number;
};
export type Run = Omit<Said<'treat-many'>, 'session'>;
export type Close = Omit<Said<'close-session'>, 'session' | 'headsThrough'> & { headsThrough?: number };

/** Forgotten on the shelf until the demo's last day: expired unopened, and open too long. */
const LEFT_STANDING = ['TN0452-2', 'CS-510-4', 'OR2711-2'];

export function scenarioOf(player: Player) {
  let holding = '';
  const people = new Map<PersonKey, string>();
  const medicines = new Map<MedicineKey, { medicine: string; revision: string }>();
  const subjects = new Map<string, string>();
  const lots = new Map<string, string>();
  const courses = new Map<number, string>();
  const buried = new Set<string>();

  function known<K, V>(map: ReadonlyMap<K, V>, key: K): V {
    const found = map.get(key);
    if (found === undefined) throw new Error(`The scenario knows no ${String(key)} yet.`);
    return found;
  }
  const medicine = (key: MedicineKey) => known(medicines, key).medicine;
  const person = (key: PersonKey) => known(people, key);
  const animal = (number: number, flock: 'own' | 'bought' = 'own') =>
    known(subjects, tagOf({ number, flock }));
  const lot = (name: string) => `lot:${known(lots, name)}`;

  const scenario = {
    player,
    holding: () => holding,
    person,
    medicine,
    animal,
    lot,
    revision: (key: MedicineKey) => known(medicines, key).revision,

    /** Starts the book, and the people of the farm. */
    async start(said: Said<'start-book'>): Promise<void> {
      const started = await player.write('start-book', said);
      holding = started.holding;
      people.set('keeper', started.person);
      player.as(started.person);
      for (const key of Object.keys(PEOPLE) as (keyof typeof PEOPLE)[]) {
        const { roles, ...rest } = PEOPLE[key];
        const added = await player.write('set-person', { ...rest, roles: [...roles] });
        people.set(key, added.person);
      }
    },
    writer(key: PersonKey): void {
      player.as(person(key));
    },
    async firstLabel(key: MedicineKey, state: 'draft' | 'confirmed' = 'confirmed'): Promise<void> {
      const { medicine: id, revision } = await player.write('set-label', {
        act: 'first',
        terms: MEDICINES[key],
        state,
      });
      medicines.set(key, { medicine: id, revision });
    },
    receive(key: MedicineKey, { from, ...batch }: Batch) {
      const supplier = PEOPLE[from];
      return player.write('receive-batch', {
        medicine: medicine(key),
        supplier: supplier.name,
        supplierAddress: supplier.address,
        ...batch,
      });
    },

    /** Learns which animal has which tag, after a file or a tag brought new ones. */
    async learnAnimals(): Promise<void> {
      const { animals } = await player.ask('animals', { limit: 25_000 });
      const tags = new Map(NAMED.map((one) => [chipOf(one), tagOf(one)]));
      for (const row of animals) {
        const tag = row.tag ?? tags.get(row.chip ?? '');
        if (tag !== undefined) subjects.set(tag, row.subject);
      }
    },
    async newLot(name: string, heads: number, born: string): Promise<void> {
      const made = await player.write('set-lot', { holding, name, class: 'lamb', heads, born });
      lots.set(name, made.lot);
    },
    countLot(name: string, heads: number, why: string) {
      return player.write('set-lot', { holding, lot: known(lots, name), name, class: 'lamb', heads, why });
    },
    async split(from: string, heads: number, to: string): Promise<void> {
      const moved = await player.write('move-heads', { from: known(lots, from), heads, to: { newLot: to } });
      lots.set(to, moved.to.slice('lot:'.length));
    },
    merge(from: string, heads: number, to: string) {
      return player.write('move-heads', { from: known(lots, from), heads, to: { lot: known(lots, to) } });
    },
    /** Takes up a lot that a marked run split off by itself. */
    async learnLots(): Promise<void> {
      const found = await player.ask('lots', { empty: true });
      for (const row of found.lots) lots.set(row.shown, row.subject.slice('lot:'.length));
    },
    /** One head of a lot gets a tag, and becomes an animal with a name of its own. */
    async tag(from: string, number: number): Promise<void> {
      const ear = { number, flock: 'own' as const };
      const said = { tag: tagOf(ear), chip: chipOf(ear) };
      const moved = await player.write('move-heads', { from: known(lots, from), heads: 1, to: said });
      subjects.set(tagOf(ear), moved.to);
      // Who it is in full: the tag alone says neither class nor sex.
      await player.write('set-animal', {
        holding,
        animal: moved.to.slice('animal:'.length),
        class: 'ewe-lamb',
        sex: 'female',
      });
    },

    async group(name: string): Promise<Reply<'groups'>['groups'][number]> {
      const { groups } = await player.ask('groups', {});
      const found = groups.find((one) => one.name === name);
      if (!found) throw new Error(`There is no group ${name}.`);
      return found;
    },
    async members(name: string): Promise<string[]> {
      const { group } = await scenario.group(name);
      return (await player.ask('group', { group })).members.map((row) => row.subject);
    },
    async dates(name: string, dates: NonNullable<Said<'set-group'>['dates']>): Promise<void> {
      const { group, dates: before } = await scenario.group(name);
      await player.write('set-group', { holding, group, name, dates: { ...before, ...dates } });
    },

    /** Writes the deaths of the last days that nobody has written yet. */
    async bury(): Promise<void> {
      const today = player.today();
      for (const { flock, number, fate } of NAMED) {
        const ear = tagOf({ flock, number });
        if (fate === undefined || fate.on > today || buried.has(ear)) continue;
        buried.add(ear);
        const said = [{ subject: animal(number, flock) }];
        await player.write('depart', { subjects: said, how: fate.how, happened: fate.on });
      }
    },

    /** Opens a work sheet. */
    async open(work: Work): Promise<string> {
      await scenario.bury();
      scenario.writer(work.by);
      const groups = await Promise.all((work.groups ?? []).map(scenario.group));
      const { session } = await player.write('open-session', {
        holding,
        name: work.name,
        mode: 'mass',
        groups: groups.map(({ group }) => group),
        subjects: work.subjects ?? [],
        lines: [
          {
            medicine: medicine(work.medicine),
            reason: work.reason,
            ...(work.doseLine === undefined ? {} : { doseLine: work.doseLine }),
            ...work.line,
          },
        ],
        ...(work.mark === undefined ? {} : { mark: work.mark }),
        ...(work.sharpsOut === undefined ? {} : { sharpsOut: work.sharpsOut }),
      });
      return session;
    },
    /** Opens a work sheet, treats everyone on it but the exceptions, and counts out. */
    async work(work: Work, run: Run = {}, close: Close = {}): Promise<string> {
      const session = await scenario.open(work);
      const { heads } = await player.write('treat-many', { session, ...run });
      await scenario.close(session, heads, close);
      return session;
    },
    /**
     * Work in which the reader failed at the end: a run for all but the last pen, whose animals are recorded one by one,
     * but for those that nobody read. Answers the work sheet of the last pen, still open, and how many heads it has.
     */
    async workUntilUnread(work: Work, run: Run, unread: readonly string[]) {
      const all = (await Promise.all((work.groups ?? []).map(scenario.members))).flat();
      const read = all.filter((subject) => !unread.includes(subject));
      await scenario.work({ ...work, groups: [], subjects: read.slice(0, -8) }, run);
      const pen = [...read.slice(-8), ...unread];
      const session = await scenario.open({
        ...work,
        name: `${work.name}, last pen`,
        groups: [],
        subjects: pen,
      });
      for (const subject of read.slice(-8)) await player.write('treat', { session, subject });
      return { session, heads: 8 };
    },
    async close(session: string, heads: number, close: Close = {}) {
      const said = { headsThrough: heads, ...close };
      return player.write('close-session', { session, ...said });
    },
    /** One animal or lot, outside a session. */
    treat(
      by: PersonKey,
      subject: string,
      single: Omit<Single, 'medicine'> & { medicine: MedicineKey },
      more: Omit<Said<'treat'>, 'subject' | 'single' | 'session'> = {},
    ) {
      scenario.writer(by);
      const what = { ...single, medicine: medicine(single.medicine) };
      return player.write('treat', { subject, single: what, ...more });
    },

    /** Keeps the name of a course that an animal began. */
    keepCourse(number: number, course: string | undefined): void {
      if (course === undefined) throw new Error(`No course was begun for ${number}.`);
      courses.set(number, course);
    },
    course: (number: number) => known(courses, number),

    /** The container with this number on its sticker. */
    async container(label: string): Promise<string> {
      const { containers } = await player.ask('cabinet', { search: label, show: 'all' });
      const found = containers.find((one) => one.label === label);
      if (!found) throw new Error(`There is no container ${label}.`);
      return found.container;
    },
    async stock(label: string, said: Omit<Said<'move-stock'>, 'container'>) {
      return player.write('move-stock', { container: await scenario.container(label), ...said });
    },
    /** Takes what is past its date to the dispensary's bin, but for what is to be left standing. */
    async tidyCabinet(): Promise<void> {
      const { containers } = await player.ask('cabinet', {});
      for (const one of containers) {
        if (one.state !== 'past-in-use' && one.state !== 'expired') continue;
        if (LEFT_STANDING.includes(one.label)) continue;
        await player.write('move-stock', {
          container: one.container,
          cause: 'disposed',
          why: one.state === 'expired' ? 'Past its expiry date' : 'Open too long',
          how: 'Medicine waste bin',
          where: PEOPLE.dispensary.name,
        });
      }
    },
  };
  return scenario;
}

import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { isInjectedRoute, labelCautions } from '../../../src-shared/label/cautions.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import { ROUTE_WORDS } from '../../../src-shared/label/words.ts';
import { needleRouteOf } from '../../../src-shared/needle/advice.ts';
import { type NeedlesNeeded, needlesNeeded, printNeedlesWorking } from '../../../src-shared/needle/change.ts';
import { type Check, checksFor } from '../../../src-shared/needle/checks.ts';
import { type Needle, printNeedle } from '../../../src-shared/needle/needle.ts';
import { routeGuidance } from '../../../src-shared/needle/routes.ts';
import { amountOf } from '../../../src-shared/quantity/amount.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { type HouseRules, houseRulesOf } from '../drawer/house.ts';
import { drawerOf, type InDrawer, needlesAtHand } from '../reading/drawer.ts';
import { type Equipment, equipmentOf } from '../reading/equipment.ts';
import { revisionOf } from '../reading/revision.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import type { SessionLine } from '../treat/plan-line.ts';
import { itemsOf, type Want } from './items.ts';
import { type Chosen, needlesOf, shownNeedles } from './needles.ts';

/** The work a kit is for: planned, or open with those who wait. */
export type Work = {
  holding: string;
  local: string;
  lines: readonly SessionLine[];
  /** Bottles each line will be drawn from. */
  bottles: readonly number[];
  subjects: DataOf<'session-opened'>['subjects'];
  mark?: { colour: string; place: string } | undefined;
};

export type Kit = Omit<Reply<'session-kit'>, 'checks' | 'checked' | 'sharps'> & { checks: Check[] };

type Line = {
  terms: LabelTerms;
  doseLine: DoseLine | undefined;
  isInjected: boolean;
  equipment: Equipment | undefined;
  line: SessionLine;
  heads: number;
  chosen: Chosen[];
  needed: { chosen: Chosen | undefined; needed: NeedlesNeeded }[];
};

/** Everything besides the medicine: the needles with their reasons, how many, and what is short of them. */
export function kitOf(tx: Reader, work: Work): Kit {
  const drawer = drawerOf(tx).filter(({ one }) => one.active);
  const house = houseRulesOf(tx, work.holding);
  const rows = new Map(
    subjectsOf(
      tx,
      work.subjects.map(({ subject }) => subject),
    ).map((row) => [row.subject, row]),
  );
  const lines = work.lines.map((line, i) => lineOf(tx, work, line, i, { drawer, house, rows }));
  const isInjected = lines.some((line) => line.isInjected);
  const needed = lines.flatMap((line) => line.needed);
  const wants = lines.flatMap(wantsOf);
  if (isInjected) {
    wants.push({
      what: 'sharps-box',
      text: 'box for used needles',
      wanted: 1,
      why: 'Every used needle goes straight into it.',
    });
  }
  if (work.mark || isInjected) wants.push(markWant(work.mark));
  return {
    isInjected,
    lines: lines.map((line) => ({
      name: line.terms.name,
      route: routeWords(line.doseLine),
      isInjected: line.isInjected,
      givenWith: givenWith(line),
      ...shownNeedles(line.chosen),
      ...guidanceOf(line),
    })),
    items: itemsOf(wants, drawer),
    ...changeOf(needed),
    warnings: distinct(needed.flatMap((one) => one.needed.warnings)),
    checks: checksFor({
      isInjected,
      usesGun: lines.some(({ equipment }) => equipment?.what === 'gun'),
      shake: lines.some(({ terms }) => terms.shakeWell),
      thick: lines.some(({ terms }) => terms.flowClass === 'suspension' || terms.flowClass === 'oily'),
      hazards: distinctTexts(lines.flatMap(({ terms, isInjected: sharp }) => hazardsOf(terms, sharp))),
    }),
  };
}

type Around = {
  drawer: readonly InDrawer[];
  house: HouseRules | undefined;
  rows: ReadonlyMap<string, SubjectRow>;
};

function lineOf(tx: Reader, work: Work, line: SessionLine, i: number, around: Around): Line {
  const { terms } = revisionOf(tx, line.revision);
  const doseLine = terms.doseLines.find(({ id }) => id === line.doseLine);
  const isInjected = isInjectedRoute(doseLine?.route);
  const equipment = line.equipment === undefined ? undefined : equipmentOf(tx, line.equipment);
  const gets = work.subjects.flatMap(({ subject, heads, doses, toWeigh }) => {
    const row = around.rows.get(subject);
    const dose = doses[i];
    if (!row || (dose == null && toWeigh?.includes(i) !== true)) return [];
    return [{ row: { ...row, heads }, dose: dose ? amountOf(dose.kind, unitsOf(dose)) : undefined }];
  });
  const heads = gets.reduce((sum, { row }) => sum + row.heads, 0);
  const chosen =
    doseLine === undefined || needleRouteOf(doseLine.route) === undefined
      ? []
      : needlesOf({
          terms,
          doseLine,
          gun: equipment?.what === 'gun' ? { drawsBack: equipment.drawsBack } : undefined,
          house: around.house,
          drawer: needlesIn(around.drawer),
          local: work.local,
          gets,
        });
  const bottles = Math.max(line.source === 'ours' ? 0 : 1, work.bottles[i] ?? 0);
  const groups: (Chosen | undefined)[] = chosen.length > 0 ? chosen : [undefined];
  const needed = !isInjected
    ? []
    : groups.map((one, n) => ({
        chosen: one,
        needed: needlesNeeded({
          heads: one?.heads ?? heads,
          // Drawn off with the needle most of them take.
          bottles: n === 0 ? bottles : 0,
          houseEveryHeads: around.house?.changeEvery,
          punctures: puncturesOf(terms, one),
        }),
      }));
  return { terms, doseLine, isInjected, equipment, line, heads, chosen, needed };
}

/** The needles of the farm that are there, or may be; nothing when none was ever written down. */
function needlesIn(drawer: readonly InDrawer[]): Needle[] | undefined {
  return drawer.some(({ one }) => one.size !== undefined) ? needlesAtHand(drawer) : undefined;
}

/** A limit on piercing the stopper; where the label names no gauge it speaks of the needle that is used. */
function puncturesOf(terms: LabelTerms, chosen: Chosen | undefined) {
  const most = terms.needle?.punctures;
  if (most === undefined || chosen === undefined || !chosen.found.ok) return undefined;
  return [{ gauge: chosen.found.value.choice.gauge, most }];
}

function wantsOf({ needed, equipment, line, isInjected }: Line): Want[] {
  const needles = needed.map(({ chosen, needed: count }): Want => {
    const size = chosen?.found.ok === true ? chosen.found.value.choice : undefined;
    return {
      what: 'needle',
      text: size === undefined ? 'needle, as the label or the vet says' : printNeedle(size),
      wanted: count.total,
      why: printNeedlesWorking(count.working)
        .map(({ text }) => `${text}.`)
        .join(' '),
    };
  });
  const tool: Want[] =
    equipment?.what === 'gun'
      ? [
          {
            what: 'gun-spare',
            text: 'seals and spare parts for the gun',
            wanted: 1,
            why: 'A seal that leaks gives too little.',
          },
        ]
      : equipment === undefined && isInjected
        ? [
            {
              what: 'syringe',
              text: line.syringe?.capacity ?? 'syringe, not chosen yet',
              wanted: 2,
              why: 'One to use and one spare.',
            },
          ]
        : [];
  return [...needles.filter(({ wanted }) => wanted > 0), ...tool];
}

function markWant(mark: Work['mark']): Want {
  return {
    what: 'marking-spray',
    text: mark?.colour ?? 'any colour',
    wanted: 1,
    why:
      mark === undefined
        ? 'An animal in which a needle breaks is marked at once.'
        : `Those who are done are marked ${mark.colour} on the ${mark.place}.`,
  };
}

function givenWith({ equipment, line }: Line): string {
  if (equipment)
    return `${equipment.name}${equipment.capacity === undefined ? '' : `, ${equipment.capacity}`}`;
  const { syringe } = line;
  return syringe ? `${syringe.capacity} syringe, a mark every ${syringe.graduation}` : 'not chosen yet';
}

function routeWords(doseLine: DoseLine | undefined): string {
  return doseLine === undefined ? '' : ROUTE_WORDS[doseLine.route];
}

function guidanceOf({ doseLine, terms }: Line): { guidance?: { steps: string[]; source: string } } {
  const found = doseLine && routeGuidance(doseLine.route, terms.form);
  return found === undefined ? {} : { guidance: { steps: [...found.steps], source: found.source } };
}

/** When needles are changed, and how many there must be in all. */
function changeOf(needed: Line['needed']): Pick<Kit, 'change'> {
  const [first] = needed;
  const total = needed.reduce((sum, one) => sum + one.needed.total, 0);
  if (first === undefined || total === 0) return {};
  const { everyHeads, conflict, always, drawOff } = first.needed;
  return {
    change: {
      everyHeads,
      total,
      says: [conflict.taken, always, drawOff],
      sides: conflict.sides.map(({ says, source, mark }) => `${says}: ${source} (${mark})`),
      taken: conflict.taken,
      working: needed.flatMap((one) => printNeedlesWorking(one.needed.working)),
    },
  };
}

/** What the label says of danger to people. */
function hazardsOf(terms: LabelTerms, isInjected: boolean): string[] {
  return labelCautions(terms, isInjected)
    .filter((text) => /^(Danger|Pregnant women)/.test(text))
    .map((text) => `${terms.name}: ${text}`);
}

function distinct(warnings: readonly Warning[]): Warning[] {
  return [...new Map(warnings.map((one) => [`${one.code} ${one.text}`, one])).values()];
}
const distinctTexts = (texts: readonly string[]) => [...new Set(texts)];

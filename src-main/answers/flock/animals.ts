import { parseTape, tapeWeight } from '../../../src-shared/dose/tape.ts';
import type { Identity } from '../../../src-shared/flock/identity.ts';
import {
  parseWeight,
  printWeight,
  type Weight,
  weightQuestion,
} from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Act, type Answers, type Asked, write } from '../context.ts';
import { optional } from '../optional.ts';
import {
  cameAt,
  checkedDay,
  happenedBy,
  holdingOfSubject,
  holdUntilStatement,
  identityIn,
  notBefore,
  ownersOf,
  sayLeft,
  weightOf,
} from '../reading/flock.ts';
import { holdingOf } from '../reading/holding.ts';
import { subjectOfName } from '../reading/subjects.ts';

export type Numbers = {
  shown: string;
  keys: string[];
  tag?: string;
  chip?: string;
  management?: string;
};
type TypedNumbers = {
  tag?: string | undefined;
  chip?: string | undefined;
  management?: string | undefined;
};

/**
 * The numbers of an animal as typed, checked against the book. Refuses numbers that cannot be read, a tag and a
 * chip of two animals (`tag-chip-differ`), and a number that is or was another animal's (`number-in-use`, by
 * name). A short number may be shared when the animal has a better one and the person says so.
 */
export function numbersOf(act: Act, typed: TypedNumbers, own: string | undefined): Numbers {
  let tag = typed.tag === undefined ? undefined : identityIn('tag', typed.tag);
  let chip = typed.chip === undefined ? undefined : identityIn('chip', typed.chip);
  const management = typed.management === undefined ? undefined : identityIn('management', typed.management);
  if (chip && chip.kind !== 'chip') {
    throw new Refusal('not-a-chip', 'This is not the number of a chip, which has 15 digits.', {
      field: 'chip',
    });
  }
  if (management && management.kind !== 'management') {
    throw new Refusal(
      'not-management',
      'This is a full tag or chip number, not a short number of the farm.',
      {
        field: 'management',
        next: 'Write it under tag or chip.',
      },
    );
  }
  if (tag?.kind === 'chip') {
    checkSame(tag, chip);
    chip = tag;
    tag = undefined;
  }
  if (tag && chip) checkSame(tag, chip);
  const shown = tag ?? chip ?? management;
  if (!shown) {
    throw new Refusal('no-identity', 'Give the tag, the chip or a number of your own.', { field: 'tag' });
  }
  checkFree(act, { tag, chip, management }, own);
  return {
    shown: shown.written,
    keys: [...new Set([tag, chip, management].flatMap((one) => (one ? [one.key] : [])))],
    ...(tag ? { tag: tag.written } : {}),
    ...(chip ? { chip: chip.key } : {}),
    ...(management ? { management: management.written } : {}),
  };
}

/** A chip with a maker's code carries no number of the tag, and a tag of the farm's own has no 15 digits. */
function contradict(one: Identity, other: Identity): boolean {
  const says = (number: Identity) => number.kind !== 'management' && !number.key.startsWith('9');
  return says(one) && says(other) && one.key !== other.key;
}

function checkSame(tag: Identity, chip: Identity | undefined): void {
  if (!chip || !contradict(tag, chip)) return;
  throw new Refusal(
    'tag-chip-differ',
    `The tag ${tag.written} and the chip ${chip.written} are two different animals; correct one of them.`,
    { field: 'chip' },
  );
}

function checkFree(
  act: Act,
  numbers: Record<'tag' | 'chip' | 'management', Identity | undefined>,
  own: string | undefined,
): void {
  const keys = Object.values(numbers).flatMap((one) => (one ? [one.key] : []));
  const owners = ownersOf(act.tx, keys);
  for (const field of ['tag', 'chip', 'management'] as const) {
    const number = numbers[field];
    if (!number) continue;
    const others = (owners.get(number.key) ?? []).filter((owner) => owner.id !== own);
    const other = others.find((owner) => owner.present === 1) ?? others.at(-1);
    if (!other) continue;
    if (field === 'management') {
      // Short numbers are given again once an animal has left.
      if (other.present === 0) continue;
      if (numbers.tag || numbers.chip) {
        act.ask(
          'number-shared',
          `${other.shown} also has the number ${number.written}. Typed at the race it will not find one animal. Give it twice?`,
          field,
        );
        continue;
      }
    }
    const there = other.present === 1;
    throw new Refusal(
      'number-in-use',
      there
        ? `${number.written} is ${other.shown}, or was before it got another tag.`
        : `${number.written} is ${other.shown}, which ${sayLeft(other)}.`,
      {
        field,
        next: there
          ? 'Correct the number, or open that animal.'
          : 'Correct the number; if the animal is here again, strike out its departure under Book.',
      },
    );
  }
}

/** What an animal's entry says that no form asks for again when it is changed. */
type Standing = {
  tag: string | null;
  chip: string | null;
  management: string | null;
  sex: 'female' | 'male' | 'castrated' | null;
  born: string | null;
  dam: string | null;
  at_foot_until: string | null;
  owner: string | null;
  origin: 'own' | 'bought';
  came_on: string | null;
  present: number;
};

function standingOf(act: Act, animal: string | undefined): Standing | undefined {
  if (animal === undefined) return undefined;
  const row = act.tx.get<Standing>(
    `SELECT tag, chip, management, sex, born, dam, at_foot_until, owner, origin, came_on, present
     FROM animal WHERE id = ?`,
    animal,
  );
  if (!row) {
    throw new Refusal('no-such-animal', 'This animal is not in the book.', {
      field: 'animal',
      next: 'Look for it under Flock, or add it there.',
    });
  }
  return row;
}

/**
 * The numbers after a change. One that is not given again stays, so that no form loses it by leaving it out; but a
 * new tag puts an end to the chip of the old one, and a new chip to the old tag. The old ones stay findable.
 */
function numbersAfter(asked: TypedNumbers, before: Standing | undefined): TypedNumbers {
  if (!before) return asked;
  const fits = (given: string | undefined, old: string | null, field: 'tag' | 'chip'): string | undefined => {
    if (old === null || given === undefined) return old ?? undefined;
    const [one, other] = [identityIn(field, given), identityIn(field, old)];
    return contradict(one, other) ? undefined : old;
  };
  return {
    tag: asked.tag ?? fits(asked.chip, before.tag, 'chip'),
    chip: asked.chip ?? fits(asked.tag, before.chip, 'tag'),
    management: asked.management ?? before.management ?? undefined,
  };
}

function setAnimal(act: Act, asked: Asked<'set-animal'>) {
  const holding = holdingOf(act.tx, asked.holding);
  const before = standingOf(act, asked.animal);
  const numbers = numbersOf(act, numbersAfter(asked, before), asked.animal);
  const animal = asked.animal ?? act.id();
  const subject = `animal:${animal}`;
  const happened = notBefore(happenedBy(act, holding, 'start', asked.happened), cameAt(act.tx, subject));
  const origin = asked.origin === 'bought' ? 'bought' : (before?.origin ?? 'own');
  const dam = asked.dam === undefined ? before?.dam : identityIn('dam', asked.dam).written;
  act.add(
    'animal-set',
    {
      animal,
      holding: holding.holding,
      ...numbers,
      class: asked.class,
      sex: asked.sex ?? before?.sex ?? undefined,
      born: checkedDay(act, holding, 'born', asked.born) ?? before?.born ?? undefined,
      dam: dam ?? undefined,
      atFootUntil: before?.at_foot_until ?? undefined,
      milking: asked.milking,
      owner: before?.owner ?? undefined,
      origin,
      cameOn: checkedDay(act, holding, 'cameOn', asked.cameOn) ?? before?.came_on ?? undefined,
    },
    happened,
  );
  const bought = origin === 'bought' && before?.origin !== 'bought';
  if (bought || asked.standing === 'unknown') holdUntilStatement(act, subject, happened);
  return { animal, shown: numbers.shown };
}

/** Longer numbers than the book keeps are slips of the keyboard. */
function checkKept(weight: Weight): Weight {
  if (/^\d{1,4}(\.\d{1,9})?$/.test(weight.value)) return weight;
  throw new Refusal('bad-weight', `A sheep cannot weigh ${printWeight(weight)}.`, {
    field: 'weight',
    next: 'Correct the weight.',
  });
}

/** The weight as it was read off, or by the tape. Refuses (`weight-missing`, `tape-unwanted`) and what the parsers refuse. */
function weightSaid(asked: Asked<'weigh'>, unit: 'kg' | 'lb' | undefined): Weight {
  const { tape, weight, how } = asked;
  if (tape !== undefined && how !== 'tape') {
    throw new Refusal('tape-unwanted', 'Girth and length belong to a weight by tape.', {
      field: 'how',
      next: 'Say that it is by tape, or leave them out.',
    });
  }
  if (tape !== undefined) {
    // Worked out here, whatever a screen may have shown.
    return checkKept(tapeWeight(parseTape(tape.girth, 'girth'), parseTape(tape.length, 'length')).weight);
  }
  if (weight !== undefined) return checkKept(parseWeight(weight, 'weight', { unit }));
  throw new Refusal('weight-missing', 'Weight: write what it weighs.', { field: 'weight' });
}

export const animalAnswers: Answers<'set-animal' | 'weigh'> = {
  'set-animal'(context, asked) {
    return write<'set-animal'>(context, asked, (act) => setAnimal(act, asked));
  },

  weigh(context, asked) {
    return write<'weigh'>(context, asked, (act) => {
      const row = subjectOfName(act.tx, asked.subject);
      const holding = holdingOfSubject(act.tx, row);
      const weight = weightSaid(asked, holding?.weightUnit);
      const question = weightQuestion(weight, weightOf(row));
      if (question) act.ask(question.code, question.text, 'weight');
      const happened = happenedBy(act, holding, 'start', asked.happened);
      act.add(
        'weighed',
        { subject: asked.subject, weight, how: asked.how, ...optional('tape', asked.tape) },
        happened,
      );
      return {
        weight: printWeight(weight),
        warnings: question ? [{ code: question.code, text: question.text }] : [],
      };
    });
  },
};

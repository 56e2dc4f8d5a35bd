import { describe, expect, it } from 'vitest';
import { type Filled, fill } from '../../src-renderer/screens/work-out/fill.ts';
import { sentenceText, workingText } from '../../src-renderer/screens/work-out/plain-text.ts';
import { several } from '../../src-renderer/screens/work-out/readers.ts';
import { partsOf, type TopicSentence, type Typed } from '../../src-renderer/screens/work-out/sentence.ts';
import { SENTENCES } from '../../src-renderer/screens/work-out/sentences.ts';
import { restoreTyped } from '../../src-renderer/screens/work-out/use-typed.ts';
import { TOPICS, workOut } from '../../src-shared/calls/work-out.ts';

function sentenceOf(topic: string): TopicSentence {
  const found = SENTENCES.find((one) => one.topic === topic);
  if (found === undefined) throw new Error(`no sentence for ${topic}`);
  return found;
}

/** A sentence filled, which must come to an answer. */
function told(topic: string, typed: Typed = sentenceOf(topic).example) {
  const filled = fill(sentenceOf(topic), typed);
  if (filled.state !== 'told') {
    throw new Error(
      `${topic} says nothing: ${filled.state === 'wrong' ? filled.fault.message : filled.state}`,
    );
  }
  return { ...filled.told, text: sentenceText(filled, typed), filled };
}

function wrong(topic: string, typed: Typed): Extract<Filled, { state: 'wrong' }> {
  const filled = fill(sentenceOf(topic), typed);
  if (filled.state !== 'wrong') throw new Error(`${topic} is not wrong but ${filled.state}`);
  return filled;
}

describe('the sentences', () => {
  it('has one for every topic there is, and each question once', () => {
    const missing = [...TOPICS.keys()].filter((topic) => !SENTENCES.some((one) => one.topic === topic));
    expect(missing).toEqual([]);
    for (const { topic } of SENTENCES) expect(TOPICS.has(topic), topic).toBe(true);
    expect(new Set(SENTENCES.map(({ question }) => question)).size).toBe(SENTENCES.length);
  });

  it.each(SENTENCES)('$topic: nothing is said before anything is typed', (sentence) => {
    const filled = fill(sentence, {});
    expect(filled.state).toBe('open');
    expect(sentenceText(filled, {})).toContain('…');
    expect(workingText(sentence, filled, {})).toBeUndefined();
  });

  it.each(SENTENCES)(
    '$topic: no blank, turn or row is named that is not defined, and none defined that is not named',
    (sentence) => {
      const blanks = new Set<string>();
      const turns = new Set<string>();
      const see = (typed: Typed) => {
        for (const part of partsOf(sentence, typed)) {
          if (part.kind === 'blank') blanks.add(part.name.replace(/\.\d+\./, '.*.'));
          if (part.kind === 'turn') turns.add(part.name);
        }
      };
      see({});
      // Each way by itself, and with every other turn at its second way, since turns stand inside of ways.
      const second = Object.fromEntries(
        Object.entries(sentence.turns ?? {}).map(([name, ways]) => [`?${name}`, ways[1].id]),
      );
      for (const [name, ways] of Object.entries(sentence.turns ?? {})) {
        for (const way of ways) {
          see({ [`?${name}`]: way.id });
          see({ ...second, [`?${name}`]: way.id });
        }
      }
      expect([...blanks].toSorted()).toEqual(Object.keys(sentence.blanks).toSorted());
      expect([...turns].toSorted()).toEqual(Object.keys(sentence.turns ?? {}).toSorted());
    },
  );

  it.each(SENTENCES)('$topic: its example fills every gap', (sentence) => {
    const { text, filled } = told(sentence.topic);
    expect(text).not.toContain('…');
    expect(text).not.toMatch(/undefined|\s[,.;]|[{}<>[\]]/);
    const copied = workingText(sentence, filled, sentence.example) ?? '';
    for (const { text: line } of filled.state === 'told' ? filled.working : [])
      expect(copied).toContain(line);
  });
});

describe('what the examples come to', () => {
  // Each value and its source stand beside the topic in tests/reference; here it is read off the sentence.
  it.each([
    ['dose', '1 mL', '50 kg, 0.2 mg/kg, 1 %: a small-ruminant dosing page prints 1.0 mL'],
    [
      'label-check',
      'They agree',
      '200 mg/mL and 1 mL per 10 kg are 20 mg/kg: a long-acting oxytetracycline label',
    ],
    ['draft', '3 parts', 'derived in doses.md'],
    ['sample', '95 %', 'doses.md'],
    ['weight-tape', '55.6 kg', 'a university extension prints 122 lb'],
    ['syringe', '0.155 mL', 'ISO 7886-1, from memory'],
    ['gun-check', 'It is right', 'practice'],
    ['leak', '6 to 21 %', 'derived from two read figures'],
    ['made-up', 'about 49.63 mg/mL', '52 g in 943 mL, printed 49.6'],
    ['clearance', 'Monday 8 June 2026', 'the Finnish regulator: 6 days end on the 7th day after'],
    ['flow', 'about 21.1 newtons', 'derived, 21 to the whole newton: 150 mPa·s through 16G'],
    ['barcode', 'Friday 31 December 2027', 'day 00 is the last of the month: GS1 General Specifications'],
    ['packs', '1 × 250 mL and 2 × 500 mL', 'derived in stock.md: 250 + 500 + 500 = 510'],
    ['off-label', '74 days', '49 d × 1.5 rounded up: Veterinary Medicines Regulations 2013 Schedule 4'],
    ['use', 'about 11.9 mg/kg', '500 g over 400 × 75 + 600 × 20 kg: 11.90 mg/PCU, derived'],
    ['identity', 'UK 0 123456 00001', 'Reg (EU) 2021/520'],
    ['needle', '18 G, 1/2 in', 'practice'],
  ])('%s: %s (%s)', (topic, big) => {
    expect(told(topic).big).toBe(big);
  });

  it('drafts the fifteen lambs into 20 | 38–48 | 49–62, 146.8 mL, the worst 26.5 % over', () => {
    const { text, lines } = told('draft');
    expect(text).toContain(
      '20 kg gets 4 mL; 38 kg to 48 kg get 9.6 mL; 49 kg to 62 kg get 12.4 mL, 146.8 mL in all',
    );
    expect(text).toContain('about 26.5 %');
    expect(lines).toContain(
      'Least product in as many parts would be 142.6 mL, with 115 % over for the worst.',
    );
  });
});

describe('filling a sentence', () => {
  const dose = { weight: '62 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' };

  it('says a dose in one sentence, exact and as drawn', () => {
    const { text, big, syringe, lines } = told('dose', dose);
    expect(text).toBe(
      'A sheep of 62 kg, dosed at 0.2 mg/kg of a medicine with 10 mg/mL, gets 1.24 mL, drawn as 1.2 mL in any syringe, rounded to the nearest mark, given in one place, with no least or most dose named.',
    );
    expect(big).toBe('1.2 mL');
    expect(syringe).toEqual({ capacity: 2000, graduation: 100, draw: 1200 });
    expect(lines).toEqual(['That is about 0.1935 mg for each kg, about 3.2 % less than the exact dose.']);
  });

  it('asks with the ways that stand open, and not with what waits in closed ones', () => {
    const more = { ...dose, 'syringe.capacity': '5 mL', 'syringe.graduation': '0.2 mL', maxPerSite: '1 mL' };
    expect(told('dose', more).syringe?.capacity).toBe(2000);
    const open = told('dose', { ...more, '?syringe': 'named', '?site': 'most', '?rounding': 'up' });
    expect(open.big).toBe('1.4 mL');
    expect(open.syringe).toEqual({ capacity: 5000, graduation: 200, draw: 1400 });
    expect(open.lines).toContain('In 2 places: 0.8 mL + 0.6 mL.');
  });

  it('goes on with another row of bands as soon as one is begun, and needs none that is empty', () => {
    const bands: Typed = { weight: '30 kg', '?by': 'bands', 'bands.0.upTo': '20 kg', 'bands.0.dose': '2 mL' };
    const names = (typed: Typed) =>
      partsOf(sentenceOf('dose'), typed).flatMap((part) =>
        part.kind === 'blank' && part.name.startsWith('bands') ? [part.name] : [],
      );
    expect(names({ '?by': 'bands' })).toEqual(['bands.0.upTo', 'bands.0.dose']);
    expect(names(bands)).toHaveLength(4);
    const two = { ...bands, 'bands.1.upTo': '40 kg', 'bands.1.dose': '4 mL' };
    const { big, text } = told('dose', two);
    expect(big).toBe('4 mL');
    expect(text).toContain(
      'by bands of weight, up to 20 kg it is 2 mL, up to 40 kg it is 4 mL, no least weight named',
    );
    // Half a row is called wrong where it is.
    expect(wrong('dose', { ...bands, 'bands.1.upTo': '40 kg' }).at).toBe('bands.1.dose');
    expect(
      told('dose', {
        ...two,
        weight: '50 kg',
        '?further': 'step',
        'furtherStep.each': '10 kg',
        'furtherStep.dose': '1 mL',
      }).big,
    ).toBe('5 mL');
  });

  it('counts pieces by the word that was typed', () => {
    expect(told('dose', { weight: '30 kg', rate: '2 boluses per head' }).big).toBe('2 boluses');
  });

  it.each([
    ['dose', { ...dose, weight: '62' }, 'weight', 'kg or lb'],
    ['dose', { ...dose, rate: '0.2 mg' }, 'rate', 'for how much weight'],
    ['dose', { ...dose, strength: '0 mg/mL' }, 'strength', 'above zero'],
    ['dose', { ...dose, strength: '' }, 'strength', 'the strength must be known'],
    ['dose', { ...dose, weight: '６２ kg' }, 'weight', 'Weight:'],
    ['dose', { ...dose, weight: '62,5 kg' }, 'weight', 'a point, not a comma'],
    ['dose', { ...dose, weight: '1e999 kg' }, 'weight', 'Weight:'],
    ['dose', { ...dose, '?limits': 'named', most: '1 mL' }, 'most', 'more than the most'],
    ['draft', { weights: '20 38 x 41 kg', rate: '1 mL per 5 kg', groups: '2' }, 'weights', 'Weights'],
    ['draft', { weights: '20 41 kg', rate: '1 mL per 5 kg', groups: '9' }, 'groups', 'from 1 to'],
    [
      'clearance',
      { lastDose: '31 June 2026', zone: 'Europe/London', period: '28 d' },
      'lastDose',
      'write the day',
    ],
    ['clearance', { lastDose: '1 June 2026', zone: 'Nowhere', period: '28 d' }, 'zone', 'zone'],
    ['clearance', { lastDose: '1 June 2026', zone: 'Europe/London', period: '28' }, 'period', 'Period:'],
    ['gun-check', { setTo: '5 mL', total: '50 mL', shots: '2.5' }, 'shots', 'whole number'],
    ['weight-tape', { girth: '35', length: '30 in' }, 'girth', 'cm or in'],
    ['identity', { read: '8.26E+14' }, 'read', 'spreadsheet'],
    ['syringe', { volume: '12 mL', capacity: '10 mL' }, 'volume', 'mL'],
  ] as [string, Typed, string, string][])(
    '%s %j: one sentence under the blank %s',
    (topic, typed, at, words) => {
      const found = wrong(topic, typed);
      expect(found.at).toBe(at);
      expect(found.fault.message).toContain(words);
      expect(found.notes[at]?.fault).toBe(found.fault);
    },
  );

  it('says under the whole what no blank is at fault for', () => {
    const found = wrong('draft', { ...sentenceOf('draft').example, '?kind': 'antibiotic' });
    expect(found.at).toBeUndefined();
    expect(found.fault.message).not.toBe('');
  });

  it('reads back in full words what was typed, also while something else is missing', () => {
    const { state, notes } = fill(sentenceOf('dose'), { rate: '200 µg/kg' });
    expect(state).toBe('open');
    expect(notes.rate?.says).toBe('200 micrograms for each kilogram');
  });

  it('is the same arithmetic as the terminal: every number of the reply stands in the sentence', () => {
    const reply = workOut('dose', { weight: '137 lb', rate: '3 mg/kg', strength: '25 mg/mL' });
    const { text } = told('dose', { weight: '137 lb', rate: '3 mg/kg', strength: '25 mg/mL' });
    expect(text).toContain(`drawn as ${reply.drawMl} mL`);
  });
});

describe('several values in one blank', () => {
  it.each([
    ['20 38 62 kg', ['20 kg', '38 kg', '62 kg']],
    ['20 kg\n38 kg\n', ['20 kg', '38 kg']],
    ['20, 38.5; 62 kg', ['20 kg', '38.5 kg', '62 kg']],
    ['20kg 38kg', ['20kg', '38kg']],
    ['20 kg 38 lb 40', ['20 kg', '38 lb', '40']],
    ['20 38', ['20', '38']],
  ])('%j', (text, values) => {
    expect(several(text)).toEqual(values);
  });
});

describe('what is kept', () => {
  it('comes back as it was, and anything else as nothing', () => {
    expect(restoreTyped('{"weight":"62 kg","?by":"bands"}')).toEqual({ weight: '62 kg', '?by': 'bands' });
    for (const odd of ['', '{', 'null', '7', '[1]', '{"weight":7}']) expect(restoreTyped(odd)).toEqual({});
  });
});

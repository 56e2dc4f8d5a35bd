import { CLASSES, FLOW_CLASSES } from '../../../src-shared/label/terms.ts';
import { SITE_IDS } from '../../../src-shared/needle/places.ts';
import { TECHNIQUES } from '../../../src-shared/needle/situation.ts';
import { amount, amountIn, listIn, plain, said, shortly, sure, weight } from './readers.ts';
import type { Reply, TopicSentence, Way } from './sentence.ts';

/** What is worked out about needles: which one, and what it takes to push through it. */

const TECHNIQUE_WORDS: Readonly<Record<(typeof TECHNIQUES)[number], string>> = {
  tent: 'into a lifted fold',
  flat: 'flat along the body',
  slant: 'slanting, without a fold',
  straight: 'straight in',
};

/** Short, for within a sentence: neck and skin of the neck are told apart by the route. */
const SITE_WORDS: Readonly<Record<(typeof SITE_IDS)[number], string>> = {
  neck: 'the neck',
  elbow: 'behind the elbow',
  ribs: 'over the ribs',
  rump: 'the rump',
  'hind-leg': 'the hind leg',
};

const optionsOf = (values: readonly string[], words: Readonly<Record<string, string>>) =>
  values.map((value) => ({ value, label: words[value] ?? value }));

/** A turn that says yes or no of something. */
const yesOrNo = (name: string, no: string, yes: string): [Way, Way] => [
  { id: '', word: no },
  { id: 'yes', word: yes, ask: { [name]: true } },
];

export const needleSentence: TopicSentence = {
  topic: 'needle',
  head: 'The tools',
  question: 'Which needle?',
  text: 'A {class} of {weight} gets {volume} of something {flowClass}, {route}: take <needle>. The remedy [stains], [irritates] and [leaks]. The sheep is [condition] with [fleece], the needle goes [technique] [site]. [label] [stock]',
  blanks: {
    class: {
      says: 'class',
      size: 9,
      options: CLASSES.map((value) => ({ value, label: value.replace('-', ' ') })),
    },
    weight: weight(),
    volume: amount('volume'),
    flowClass: {
      says: 'how it flows',
      size: 11,
      options: optionsOf(FLOW_CLASSES, {
        suspension: 'that must be shaken',
        watery: 'watery',
        syrupy: 'syrupy',
        oily: 'oily',
      }),
    },
    route: {
      says: 'where it goes',
      size: 14,
      options: [
        { value: 'sc', label: 'under the skin' },
        { value: 'im', label: 'into the muscle' },
      ],
    },
    condition: { says: 'thin, fair, fat or a score', size: 14 },
    technique: { says: 'how', size: 18, options: optionsOf(TECHNIQUES, TECHNIQUE_WORDS) },
    site: {
      says: 'place',
      size: 16,
      options: optionsOf(SITE_IDS, SITE_WORDS),
    },
    'label.gauge': plain('gauge', { optional: true }),
    'label.lengthIn': { says: 'inches, as in 1/2', size: 9, optional: true },
    'label.mostLengthMm': plain('mm', { optional: true }),
    'label.maxPerSite': amount('volume', { optional: true }),
    'inStock.*.gauge': plain('gauge'),
    'inStock.*.lengthIn': { says: 'inches, as in 1/2', size: 9 },
  },
  turns: {
    stains: yesOrNo('stains', 'does not stain', 'stains the wool'),
    irritates: yesOrNo('irritates', 'does not irritate', 'irritates'),
    leaks: yesOrNo('leaks', 'does not leak back', 'leaks back easily'),
    condition: [
      { id: '', word: 'in usual condition' },
      { id: 'named', word: 'in a condition I name', text: '{condition}' },
    ],
    fleece: [
      { id: '', word: 'a fleece not looked at' },
      { id: 'short', word: 'a short fleece', ask: { fleece: 'short' } },
      { id: 'full', word: 'a full fleece', ask: { fleece: 'full' } },
    ],
    technique: [
      { id: '', word: 'in as usual' },
      { id: 'named', word: 'in as I say', text: '{technique}' },
    ],
    site: [
      { id: '', word: 'in any place' },
      { id: 'named', word: 'in a place I name', text: 'at this place: {site}' },
    ],
    label: [
      { id: '', word: 'The label is silent on it.' },
      {
        id: 'named',
        word: 'The label says more.',
        text: 'The label says gauge {label.gauge}, length {label.lengthIn} in, nothing over {label.mostLengthMm} mm, and at most {label.maxPerSite} in a place.',
      },
    ],
    stock: [
      { id: '', word: 'Any needle can be had.' },
      { id: 'named', word: 'I have only some.', text: 'In the drawer are *inStock*.' },
    ],
  },
  rows: { inStock: '{gauge} G of {lengthIn} in' },
  example: { class: 'ewe', weight: '70 kg', volume: '2 mL', flowClass: 'watery', route: 'sc' },
  tell: (reply) => {
    const choice = partOf(reply, 'choice');
    const perSite = partOf(reply, 'perSite');
    const needle = `${sure(choice, 'gauge')} G, ${sure(choice, 'lengthIn')} in`;
    const sites = listIn(perSite, 'sites').map((site) => amountIn(site, ''));
    return {
      gaps: { needle },
      label: 'Take a needle of',
      big: needle,
      lines: [
        sure(reply, 'technique'),
        ...(sites.length < 2 ? [] : [`In ${sites.length} places: ${sites.join(' + ')}.`]),
      ],
    };
  },
};

function partOf(reply: Reply, name: string): Reply {
  const [part] = listIn({ only: [reply[name]] }, 'only');
  if (part === undefined) throw new Error(`the reply has no ${name}`);
  return part;
}

export const flowSentence: TopicSentence = {
  topic: 'flow',
  head: 'The tools',
  question: 'How hard to push?',
  text: 'To push something of {viscosityMpaS} mPa·s, [density], at {flowMlPerS} mL a second from a barrel {barrelMm} mm wide inside through a needle {boreMm} mm wide inside and {lengthMm} mm long takes <force>, [friction].',
  blanks: {
    viscosityMpaS: plain('thickness', { size: 7 }),
    flowMlPerS: plain('speed'),
    barrelMm: plain('width'),
    boreMm: plain('bore'),
    lengthMm: plain('length'),
    densityGPerMl: plain('density', { size: 7 }),
    frictionN: plain('newtons', { size: 7 }),
  },
  turns: {
    density: [
      { id: '', word: 'as heavy as water' },
      { id: 'named', word: 'of another weight', text: 'weighing {densityGPerMl} g in each mL' },
    ],
    friction: [
      { id: '', word: 'the plunger itself not counted' },
      { id: 'named', word: 'with what the plunger takes', text: 'with {frictionN} N for the plunger itself' },
    ],
  },
  example: {
    viscosityMpaS: '150',
    flowMlPerS: '1',
    barrelMm: '15.9',
    boreMm: '1.1',
    lengthMm: '25.4',
  },
  tell: (reply) => {
    const force = said(reply, 'forceN');
    const told = force === undefined ? undefined : `${shortly(force, 1)} newtons`;
    return {
      gaps: { force: told ?? 'a force that cannot be told' },
      label: 'Force on the plunger',
      big: told ?? 'Cannot be told',
      lines:
        force === undefined
          ? []
          : [`10 newtons are about what a weight of 1 kg presses. A hand keeps up about 30.`],
    };
  },
};

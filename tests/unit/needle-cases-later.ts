/**
 * Needle cases written with the rules in view, one for each row on which no earlier case hangs, so that taking the
 * row out changes an answer. The earlier ones, in needle-cases.ts, are the independent ones. All invented.
 */
import { ewe, lamb5, lamb42, muscle, type NeedleCase, n, skin, thickMuscle } from './needle-case-parts.ts';

export const laterCases: NeedleCase[] = [
  {
    name: 'skin-half-given',
    ask: { ...ewe, ...skin, technique: 'tent', inStock: [n('18', '1/2'), n('20', '1/2')] },
    expect: { choice: n('18', '1/2') },
    why: '"16–18G ½–¾ in" gives 18G with 1/2 in; no source gives 20G with it.',
  },
  {
    name: 'muscle-syrupy-wider',
    ask: { ...ewe, ...muscle, flowClass: 'syrupy', inStock: [n('18', '1'), n('20', '1')] },
    expect: { choice: n('18', '1') },
    why: 'The page leaves it open whether syrupy is thick; about 20–60 mPa·s overlaps the thick ranges, so the wider bore.',
  },
  {
    name: 'lamb-thick',
    ask: { ...lamb5, ...thickMuscle, inStock: [n('18', '1/2'), n('20', '1/2'), n('22', '1/2')] },
    expect: {
      choice: n('20', '1/2'),
      conflict: ['16-18G for thick product', '22-20G 1/2 in under 4 weeks'],
    },
    why: 'The page leaves it open; the animal goes before the flow, and of what its age bears the widest.',
  },
  {
    name: 'lamb-muscle-long-only',
    ask: { ...lamb5, ...muscle, inStock: [n('20', '1')] },
    expect: { refused: true, because: 'too long for a lamb under 4 weeks (1/2 in)' },
    why: 'Where guidance disagrees the one that goes less deep is the limit, also when nothing else is there.',
  },
  {
    name: 'thin-ewe-long-only',
    ask: { ...ewe, ...muscle, condition: 'thin', inStock: [n('20', '1 1/2')] },
    expect: { refused: true, because: 'too deep into a thin animal (1 in)' },
    why: 'Neck: "little muscle in thin ones", bone behind it; the strictest source ends at 1 in.',
  },
  {
    name: 'label-most-length',
    ask: {
      ...lamb42,
      ...skin,
      technique: 'tent',
      label: { mostLengthMm: '15' },
      inStock: [n('20', '1/2'), n('20', '1')],
    },
    expect: { choice: n('20', '1/2') },
    why: '"not over 15 mm": 1 in is 25.4 mm, though the lamb’s age gives it.',
  },
  {
    name: 'label-most-length-muscle',
    ask: { ...ewe, ...muscle, label: { mostLengthMm: '15' }, inStock: [n('20', '1/2'), n('20', '1')] },
    expect: { choice: n('20', '1/2') },
    why: 'Guidance wants 1 in for muscle; a label that allows less rules.',
  },
  {
    name: 'per-site-house',
    ask: { ...ewe, ...muscle, volume: 8, house: { maxPerSite: 10 }, inStock: [n('20', '1')] },
    expect: {
      choice: n('20', '1'),
      conflict: ['5 mL', '10 mL', '15 mL'],
      perSite: { mostMl: 10, places: 1 },
    },
    why: 'The farm has chosen 10 mL, which a source gives.',
  },
  {
    name: 'per-site-label-over-house',
    ask: {
      ...ewe,
      ...muscle,
      volume: 8,
      label: { maxPerSite: 4 },
      house: { maxPerSite: 10 },
      inStock: [n('20', '1')],
    },
    expect: { choice: n('20', '1'), perSite: { mostMl: 4, places: 2 } },
    why: 'Label over house rule.',
  },
];

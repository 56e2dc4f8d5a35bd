/**
 * Needle cases, decided by hand from the page of sources on needles by someone who has seen no rule.
 * Nothing here is worked out. Units: kg, mL, inches.
 *
 * Statement of the page, and the cases that hang on it:
 * - Under the skin, adult, 18G 1/4 (Australia): slant-short-wool, straight-full-wool, stain-kept-shallow
 * - Under the skin, adult, 16-18G 1/2-3/4 (county guide): skin-watery, skin-gauge-half, skin-syrupy
 * - Under the skin, adult, 20G 3/4 (Alabama): skin-three-quarter
 * - Under the skin, adult, 18-20G 1 (small-ruminant manual): skin-inch-tent, skin-ribs, skin-flat
 * - No source goes past 1 in under the skin: skin-too-long, skin-ribs, skin-flat
 * - No source goes below 20G in an adult: skin-too-thin, skin-floor, muscle-watery-22
 * - "a 16G 1/2 in is the shortest and widest of usual sheep needles" (practice): skin-too-wide
 * - "muscle takes a longer needle than skin", "longer than for SC" (practice): skin-watery,
 *   lamb-20-skin and lamb-20-muscle (same drawer, other route)
 * - "A 12 mm needle at the neck usually reaches muscle": skin-neck-straight
 * - "6 mm at 45° stays under the skin in short wool": slant-short-wool, stain-kept-shallow
 * - "6 mm ... at 90° in full wool": straight-full-wool
 * - "a longer needle under the skin needs a tent, ribs or a flat angle": skin-inch-tent, skin-ribs,
 *   skin-flat against skin-neck-straight
 * - "3/4 in at 45° still reaches 13.5 mm": stain-kept-shallow, slant-short-wool
 * - "products that stain or leak a longer needle (about 3/4 in instead of 1/2)" (practice): skin-stains,
 *   skin-stains-watery, skin-stains-free, skin-leaks, lamb-20-stains, label-length-over-stain; and for
 *   one that irritates, which only issue 5 names, skin-irritates
 *   The same words make 1/2 in the ordinary length in a tent, before 1/4: oily-skin-free
 * - In muscle 18-20G 1-1 1/2 (small-ruminant manual): muscle-short, ram-thick-long, muscle-syrupy
 * - By age "older 18-20G 1 in": muscle-inch-first, muscle-free, ram-thick-free, thin-ewe
 * - By age, under 4 weeks 22-20G 1/2: lamb-5-skin, lamb-5-free, lamb-5-muscle, lamb-5-none
 * - By age, 4-16 weeks 20G 5/8-3/4: lamb-20-skin, lamb-20-muscle, lamb-20-gauge, lamb-20-stains
 * - By age, 4-6 months 20G 1: lamb-42-skin, lamb-42-muscle
 * - Thick product 16-18G (club guide): thick-only-thin, thick-bore-skin, thick-wide-only
 * - "smallest bore that flows" (New Zealand): skin-gauge-half, skin-three-quarter, skin-inch-tent,
 *   skin-syrupy, muscle-watery, lamb-5-skin, thick-two-bores
 * - "thick products a wider bore" (practice): thick-bore-inch, oily-skin, oily-skin-free, oily-muscle
 * - "a higher gauge is thinner" (read): every case whose drawer holds one length in two gauges
 * - Neck muscle: "little muscle in thin ones": thin-ewe (decided by "older 1 in" as well)
 * - "some labels limit ... needle length (shortest possible, not over 15 mm)", and label over house over
 *   guidance: all label-... cases
 * - "let the farm choose its own house rules": all house-... cases
 * - Most per site 5, 10 or 15 mL: per-site-guidance, per-site-label, per-site-label-more
 *
 * Read, and deciding no needle: bores, force, viscosity, syringes, hub colours, spacing, change of needle,
 * the sciatic nerve, punctures of the stopper, guns that cannot draw back, broken needles.
 *
 * Left open by the page, so without a case: thick product in a lamb (16-18G against 22-20G); an adult under
 * the skin with a shorter wide needle against a longer thin one when the skin is tented; syrupy as thick or
 * not (hence two in muscle-syrupy); 1/4 in straight in short wool; 1/2 in at 45°; what a thin ewe takes when only 1 1/2 in is there;
 * a most per site for lambs.
 *
 * The page bands lambs by age and the question carries weight. Weights well inside a band stand for it
 * (memory of growth, not on the page): 5 kg under 4 weeks, 20 kg 4-16 weeks, 42 kg 4-6 months.
 */
import {
  ewe,
  lamb5,
  lamb20,
  lamb42,
  muscle,
  type NeedleCase,
  n,
  ram,
  skin,
  thickMuscle,
} from './needle-case-parts.ts';
import { underSkin } from './needle-cases-skin.ts';

export type { Needle, NeedleAsk, NeedleCase, NeedleExpect } from './needle-case-parts.ts';

const inMuscle: NeedleCase[] = [
  {
    name: 'ram-thick',
    ask: { ...ram, ...thickMuscle, inStock: [n('16', '1/2'), n('18', '1'), n('20', '1')] },
    expect: { choice: n('18', '1') },
    why: '"18–20G 1–1½ in", thick "16–18G": only 18G 1 in is in both; 1/2 in is too short, 20G too thin.',
  },
  {
    name: 'ram-thick-long',
    ask: { ...ram, ...thickMuscle, inStock: [n('16', '1/2'), n('18', '1 1/2'), n('20', '1')] },
    expect: { choice: n('18', '1 1/2') },
    why: '"18–20G 1–1½ in" reaches to 1 1/2; 20G is outside "16–18G" for thick product, 1/2 in is too short.',
  },
  {
    name: 'ram-thick-free',
    ask: { ...ram, ...thickMuscle },
    expect: { choice: n('18', '1') },
    why: '"18–20G 1–1½ in", "older 18–20G 1 in" and thick "16–18G" meet in 18G 1 in alone.',
  },
  {
    name: 'thick-two-bores',
    ask: { ...ewe, ...thickMuscle, inStock: [n('16', '1'), n('18', '1')] },
    expect: { choice: n('18', '1'), conflict: ['16-18G for thick product', 'smallest bore that flows'] },
    why: '"16–18G (club guide)" against "smallest bore that flows (New Zealand)": 18G satisfies both, and "18–20G" in muscle.',
  },
  {
    name: 'thick-wide-only',
    ask: { ...ewe, ...thickMuscle, inStock: [n('16', '1'), n('20', '1')] },
    expect: { choice: n('16', '1'), conflict: ['16-18G for thick product', '18-20G in muscle'] },
    why: '"16–18G (club guide)" is about this product, "18–20G" about any; "thick products a wider bore".',
  },
  {
    name: 'thick-only-thin',
    ask: { ...ewe, ...thickMuscle, inStock: [n('20', '1'), n('22', '1')] },
    expect: { refused: true, because: 'too thin for a thick suspension (16–18G)' },
    why: '"gauge for thick product 16–18G (club guide)", "thick products a wider bore".',
  },
  {
    name: 'muscle-short',
    ask: { ...ewe, ...muscle, inStock: [n('16', '1/2'), n('20', '3/4')] },
    expect: { refused: true, because: 'too short to reach muscle (1–1 1/2 in)' },
    why: '"IM needle 18–20G 1–1½ in (small-ruminant manual); longer than for SC".',
  },
  {
    name: 'muscle-watery',
    ask: { ...ewe, ...muscle, inStock: [n('18', '1'), n('20', '1')] },
    expect: { choice: n('20', '1') },
    why: '"18–20G 1–1½ in" names both; "smallest bore that flows".',
  },
  {
    name: 'muscle-watery-22',
    ask: { ...ewe, ...muscle, inStock: [n('18', '1'), n('22', '1')] },
    expect: { choice: n('18', '1') },
    why: '"18–20G": 22G is thinner than any source gives an adult.',
  },
  {
    name: 'muscle-inch-first',
    ask: { ...ewe, ...muscle, inStock: [n('20', '1'), n('20', '1 1/2')] },
    expect: { choice: n('20', '1'), conflict: ['1-1 1/2 in', '1 in'] },
    why: '"1–1½ in (small-ruminant manual)" against "older 18–20G 1 in": 1 in satisfies both and goes less deep.',
  },
  {
    name: 'muscle-free',
    ask: { ...ewe, ...muscle },
    expect: { choice: n('20', '1') },
    why: '"18–20G 1–1½ in" and "older 18–20G 1 in" meet in 1 in; watery, so the smallest bore of the two.',
  },
  {
    name: 'oily-muscle',
    ask: { ...ewe, ...muscle, flowClass: 'oily', inStock: [n('18', '1'), n('20', '1')] },
    expect: { choice: n('18', '1') },
    why: '"18–20G" names both; "thick products a wider bore"; "a bottle from the fridge pushes harder".',
  },
  {
    name: 'muscle-syrupy',
    ask: {
      ...ewe,
      ...muscle,
      flowClass: 'syrupy',
      inStock: [n('16', '1/2'), n('18', '1'), n('20', '1'), n('22', '1')],
    },
    expect: { oneOf: [n('18', '1'), n('20', '1')] },
    why: '"18–20G 1–1½ in" names both; "smallest bore that flows" says 20G, "thick products a wider bore" 18G, and the page does not say whether syrupy is thick.',
  },
  {
    name: 'thin-ewe',
    ask: { ...ewe, ...thickMuscle, condition: 'thin', inStock: [n('18', '1'), n('18', '1 1/2')] },
    expect: { choice: n('18', '1') },
    why: 'Neck: "little muscle in thin ones", the vertebrae below; "older 18–20G 1 in". The neck still, since rump is "worst in thin animals".',
  },
];

const lambs: NeedleCase[] = [
  {
    name: 'lamb-5-skin',
    ask: { ...lamb5, ...skin, inStock: [n('20', '1/2'), n('22', '1/2'), n('18', '1')] },
    expect: { choice: n('22', '1/2') },
    why: '"under 4 weeks 22–20G ½ in"; "smallest bore that flows".',
  },
  {
    name: 'lamb-5-free',
    ask: { ...lamb5, ...skin, technique: 'tent' },
    expect: { choice: n('22', '1/2') },
    why: '"under 4 weeks 22–20G ½ in"; "smallest bore that flows".',
  },
  {
    name: 'lamb-5-muscle',
    ask: { ...lamb5, ...muscle, inStock: [n('20', '1/2'), n('20', '1')] },
    expect: { choice: n('20', '1/2'), conflict: ['22-20G 1/2 in under 4 weeks', '18-20G 1-1 1/2 in muscle'] },
    why: '"under 4 weeks 22–20G ½ in" against "IM 18–20G 1–1½ in", which names no age: the strictest is the one that goes less deep.',
  },
  {
    name: 'lamb-5-none',
    ask: { ...lamb5, ...skin, technique: 'tent', inStock: [n('16', '1/2'), n('18', '1'), n('25', '5/8')] },
    expect: { refused: true, because: 'none of these is 22–20G 1/2 in, as for a lamb under 4 weeks' },
    why: '"under 4 weeks 22–20G ½ in": 16G and 18G are wider, 25G is thinner.',
  },
  {
    name: 'lamb-20-skin',
    ask: { ...lamb20, ...skin, technique: 'tent', inStock: [n('20', '5/8'), n('20', '3/4')] },
    expect: { choice: n('20', '5/8') },
    why: '"4–16 weeks 20G ⅝–¾ in"; "muscle takes a longer needle than skin", so skin takes the shorter.',
  },
  {
    name: 'lamb-20-muscle',
    ask: { ...lamb20, ...muscle, inStock: [n('20', '5/8'), n('20', '3/4')] },
    expect: { choice: n('20', '3/4') },
    why: '"4–16 weeks 20G ⅝–¾ in"; in muscle "longer than for SC (practice)".',
  },
  {
    name: 'lamb-20-gauge',
    ask: { ...lamb20, ...skin, technique: 'tent', inStock: [n('18', '3/4'), n('20', '3/4'), n('22', '3/4')] },
    expect: { choice: n('20', '3/4') },
    why: '"4–16 weeks 20G": 18G is wider than the band, 22G thinner than it.',
  },
  {
    name: 'lamb-20-stains',
    ask: { ...lamb20, ...skin, stains: true, technique: 'tent', inStock: [n('20', '5/8'), n('20', '3/4')] },
    expect: { choice: n('20', '3/4') },
    why: '"4–16 weeks 20G ⅝–¾ in"; "products that stain or leak a longer needle (about ¾ in)".',
  },
  {
    name: 'lamb-42-skin',
    ask: { ...lamb42, ...skin, technique: 'tent', inStock: [n('16', '1/2'), n('20', '1')] },
    expect: { choice: n('20', '1') },
    why: '"4–6 months 20G 1 in", and a tent, as "a longer needle under the skin needs"; 16G stands for adults only.',
  },
  {
    name: 'lamb-42-muscle',
    ask: { ...lamb42, ...muscle, inStock: [n('20', '1/2'), n('20', '1')] },
    expect: { choice: n('20', '1') },
    why: '"4–6 months 20G 1 in"; "longer than for SC".',
  },
];

const labelAndHouse: NeedleCase[] = [
  {
    name: 'label-length-over-stain',
    ask: {
      ...ewe,
      ...skin,
      stains: true,
      technique: 'tent',
      label: { lengthIn: '1/2' },
      inStock: [n('18', '1/2'), n('18', '3/4')],
    },
    expect: { choice: n('18', '1/2') },
    why: 'A stain asks for 3/4 in, but "some labels limit ... needle length (shortest possible, not over 15 mm)": label over guidance.',
  },
  {
    name: 'label-short-in-muscle',
    ask: { ...ewe, ...muscle, label: { lengthIn: '1/2' }, inStock: [n('18', '1/2'), n('18', '1')] },
    expect: { choice: n('18', '1/2') },
    why: 'Guidance says 1–1½ in for muscle; the label states 1/2 in and rules.',
  },
  {
    name: 'label-wide',
    ask: {
      ...ewe,
      ...skin,
      technique: 'tent',
      label: { gauge: '16' },
      inStock: [n('16', '3/4'), n('20', '3/4')],
    },
    expect: { choice: n('16', '3/4') },
    why: 'Guidance would take the smallest bore, 20G; the label states 16G.',
  },
  {
    name: 'label-thin',
    ask: { ...ewe, ...thickMuscle, label: { gauge: '20' }, inStock: [n('18', '1'), n('20', '1')] },
    expect: { choice: n('20', '1') },
    why: 'Guidance for thick product is 16–18G; the label states 20G, within what an adult bears.',
  },
  {
    name: 'label-not-there',
    ask: { ...ewe, ...muscle, label: { gauge: '16' }, inStock: [n('18', '1'), n('20', '1')] },
    expect: { refused: true, because: 'the label states 16G and none is in the drawer' },
    why: 'Guidance would take 20G 1 in; the label is over guidance, so what it does not allow is not offered.',
  },
  {
    name: 'label-free',
    ask: { ...ewe, ...muscle, label: { gauge: '18', lengthIn: '1 1/2' } },
    expect: { choice: n('18', '1 1/2') },
    why: 'Guidance alone gives 20G 1 in (muscle-free); the label states both and rules.',
  },
  {
    name: 'house-wide',
    ask: {
      ...ewe,
      ...skin,
      technique: 'tent',
      house: { gauge: '16' },
      inStock: [n('16', '1/2'), n('18', '1/2')],
    },
    expect: { choice: n('16', '1/2') },
    why: 'Guidance gives 18G (skin-gauge-half); "let the farm choose its own house rules", and 16G is within a source.',
  },
  {
    name: 'house-long',
    ask: { ...ewe, ...muscle, house: { lengthIn: '1 1/2' }, inStock: [n('20', '1'), n('20', '1 1/2')] },
    expect: { choice: n('20', '1 1/2') },
    why: 'Guidance gives 1 in (muscle-inch-first); the house has chosen 1 1/2 in, within "1–1½ in".',
  },
  {
    name: 'label-beats-house',
    ask: {
      ...ewe,
      ...skin,
      technique: 'tent',
      label: { gauge: '20' },
      house: { gauge: '18' },
      inStock: [n('18', '3/4'), n('20', '3/4')],
    },
    expect: { choice: n('20', '3/4') },
    why: 'Label over house rule over guidance.',
  },
  {
    name: 'label-beats-house-length',
    ask: {
      ...ewe,
      ...skin,
      technique: 'tent',
      label: { lengthIn: '1/2' },
      house: { lengthIn: '1' },
      inStock: [n('18', '1/2'), n('18', '1')],
    },
    expect: { choice: n('18', '1/2') },
    why: 'Label over house rule; "some labels limit ... needle length".',
  },
  {
    name: 'label-and-house-together',
    ask: {
      ...ewe,
      ...skin,
      technique: 'tent',
      label: { gauge: '18' },
      house: { lengthIn: '3/4' },
      inStock: [n('18', '1/2'), n('18', '3/4'), n('20', '3/4')],
    },
    expect: { choice: n('18', '3/4') },
    why: 'The label states gauge only and rules it; on length it is silent, so the house rule stands over 1/2 in.',
  },
  {
    name: 'per-site-guidance',
    ask: { ...ewe, ...muscle, volume: 8, inStock: [n('20', '1')] },
    expect: { choice: n('20', '1'), conflict: ['5 mL', '10 mL', '15 mL'], perSite: { mostMl: 5, places: 2 } },
    why: '"most per site 5 mL (club guide); 10 mL (Australian export handbook); 15 mL": the strictest by default, 8 mL in two places.',
  },
  {
    name: 'per-site-label',
    ask: { ...ewe, ...muscle, volume: 8, label: { maxPerSite: 3 }, inStock: [n('20', '1')] },
    expect: { choice: n('20', '1'), perSite: { mostMl: 3, places: 3 } },
    why: 'The label states 3 mL in a place: label over guidance.',
  },
  {
    name: 'per-site-label-more',
    ask: { ...ewe, ...muscle, volume: 8, label: { maxPerSite: 10 }, inStock: [n('20', '1')] },
    expect: { choice: n('20', '1'), perSite: { mostMl: 10, places: 1 } },
    why: 'The label states 10 mL in a place and rules, also where it allows more than the strictest guide.',
  },
];

/** Every case, in the order under the skin, in muscle, lambs, label and house. */
export const needleCases: NeedleCase[] = [...underSkin, ...inMuscle, ...lambs, ...labelAndHouse];

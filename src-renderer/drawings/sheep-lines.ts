import type { SiteId } from '../../src-shared/needle/places.ts';
import type { NeedleRoute } from '../../src-shared/needle/situation.ts';

/**
 * The lines of our own drawing of a sheep, seen from its left side, so that it looks to the left; its right side is the
 * same, turned round. The unit is a 640th of its width.
 */
export const SHEEP = { width: 640, height: 452 } as const;

type Point = readonly [x: number, y: number];

/** A line of wool: small bows that bulge out of the body, from one point to the next. */
function wool(points: readonly Point[], radius: number): string {
  const [first, ...rest] = points;
  if (first === undefined) return '';
  let [x, y] = first;
  const bows = rest.map(([toX, toY]) => {
    const bow = `a${radius} ${radius} 0 0 1 ${toX - x} ${toY - y}`;
    [x, y] = [toX, toY];
    return bow;
  });
  return `M${first[0]} ${first[1]}${bows.join('')}`;
}

/** The fleece from the poll along the back, down the buttock, along the belly, up the breast to the throat. */
const FLEECE: readonly Point[] = [
  [119, 84],
  [136, 89],
  [153, 97],
  [170, 106],
  [188, 113],
  [207, 118],
  [228, 121],
  [250, 122],
  [273, 124],
  [296, 125],
  [320, 124],
  [344, 122],
  [368, 120],
  [392, 118],
  [416, 117],
  [440, 119],
  [463, 124],
  [484, 132],
  [502, 144],
  [515, 160],
  [523, 179],
  [528, 199],
  [529, 220],
  [526, 241],
  [520, 261],
  [511, 279],
  [497, 291],
  [480, 295],
  [463, 290],
  [450, 280],
  [436, 274],
  [417, 280],
  [397, 286],
  [376, 291],
  [354, 295],
  [331, 297],
  [308, 297],
  [285, 294],
  [263, 288],
  [243, 283],
  [224, 285],
  [205, 279],
  [190, 267],
  [180, 251],
  [174, 234],
  [167, 217],
  [157, 202],
  [147, 188],
  [136, 175],
  [123, 166],
];

export const BODY = `${wool(FLEECE, 17)}L119 84Z`;
export const FLEECE_LINE = wool(FLEECE, 17);
/** Where the wool ends at the cheek. */
export const CHEEK = wool(
  [
    [123, 166],
    [117, 151],
    [119, 135],
    [115, 119],
    [119, 102],
    [114, 88],
  ],
  13,
);
export const HEAD =
  'M122 86C114 74 100 70 88 76C78 82 70 96 60 112C52 125 42 134 37 143C32 152 34 162 42 166C50 171 62 170 72 170C84 171 96 174 108 170C116 168 122 166 124 162';
export const FACE = [
  // Nostril, mouth, eye with its lid, cheek.
  'M41 148C44 145 48 146 49 149',
  'M37 160C46 161 56 159 64 156',
  'M79 110C83 105 90 105 94 109C90 114 83 114 79 110Z',
  'M77 104C83 99 91 99 96 103',
  'M70 136C76 146 86 152 98 152',
] as const;
export const PUPIL = { x: 86.5, y: 109.5 } as const;
export const EAR = 'M110 86C122 76 146 76 167 88C172 92 172 96 167 98C150 106 128 106 113 98Z';
export const EAR_FOLD = 'M120 91C134 88 148 89 160 93';
export const FAR_EAR = 'M104 80C110 68 126 62 144 64C138 74 128 82 116 86Z';

/** Bare legs, those of the far side first: to be drawn under the body. */
export const FAR_LEGS = [
  'M236 280C240 300 242 316 240 332C239 350 241 370 240 388L237 400L241 410H262L260 398C258 376 258 354 261 332C264 314 266 298 268 280Z',
  'M438 278C446 294 458 306 463 322C466 342 460 366 457 388L454 400L458 410H480L479 398C480 376 482 352 487 332C490 318 490 304 486 290Z',
] as const;
export const NEAR_LEGS = [
  'M194 268C202 292 207 312 205 330C204 350 207 374 206 396L202 410L207 421H231L229 407C226 384 225 360 229 334C233 314 237 300 242 280Z',
  'M456 284C470 298 485 310 491 327C494 346 489 372 487 396L484 410L488 421H513L511 407C510 382 513 356 518 336C523 321 521 309 515 298C511 290 510 282 514 270Z',
] as const;
/** The edge of each hoof. */
export const HOOVES = [
  'M238 401H261',
  'M455 401H479',
  'M203 410H229M217 411V421',
  'M485 410H511M499 411V421',
] as const;
/** Knee and hock, just hinted at. */
export const JOINTS = ['M210 331C215 335 220 335 225 332', 'M497 330C503 334 509 333 514 328'] as const;
/** Tail, shoulder, thigh and flank. */
export const TAIL = 'M512 152C522 156 531 170 533 188C534 198 531 206 526 208C520 206 517 196 516 184';
export const FORMS = [
  'M214 140C232 150 248 170 251 196C253 222 246 246 238 268',
  'M454 150C436 170 428 200 433 232C436 250 442 262 450 272',
] as const;
/** A few locks in the fleece, so that it is not a bag. */
export const LOCKS = [
  'M300 150q6 6 13 1',
  'M344 146q6 6 13 1',
  'M388 142q6 6 13 1',
  'M322 176q6 6 13 1',
  'M366 172q6 6 13 1',
  'M408 168q6 6 13 1',
  'M340 206q6 6 13 1',
  'M384 202q6 6 13 1',
  'M362 236q6 6 13 1',
  'M402 232q6 6 13 1',
  'M320 240q6 6 13 1',
  'M300 268q6 6 13 1',
  'M344 266q6 6 13 1',
  'M388 262q6 6 13 1',
] as const;

/** A place as it lies on the drawing: where, and how large. */
export type Spot = { readonly x: number; readonly y: number; readonly rx: number; readonly ry: number };

/** Every place of the table of places, by route and site. */
export const SPOTS: Readonly<Record<NeedleRoute, Partial<Readonly<Record<SiteId, Spot>>>>> = {
  sc: {
    neck: { x: 166, y: 142, rx: 18, ry: 15 },
    elbow: { x: 262, y: 262, rx: 17, ry: 13 },
    ribs: { x: 292, y: 198, rx: 19, ry: 17 },
  },
  im: {
    neck: { x: 176, y: 139, rx: 17, ry: 12 },
    rump: { x: 434, y: 144, rx: 12, ry: 11 },
    'hind-leg': { x: 509, y: 222, rx: 11, ry: 18 },
  },
};

/** What a needle must not meet, as it lies under the skin; `name` is how it is called beside the drawing. */
export type Avoid = {
  readonly id: 'ligament' | 'vertebrae' | 'vein' | 'nerve' | 'groove' | 'ribs' | 'chest';
  readonly name: string;
  readonly how: 'hatched' | 'dotted';
  readonly path: string;
};

const LIGAMENT: Avoid = {
  id: 'ligament',
  name: 'ligament of the neck',
  how: 'hatched',
  path: 'M124 92C150 98 182 115 226 124L228 134C184 128 150 112 126 102Z',
};
const VERTEBRAE: Avoid = {
  id: 'vertebrae',
  name: 'vertebrae',
  how: 'hatched',
  path: 'M124 114C132 136 148 158 176 171C202 182 224 172 242 154L252 164C234 188 204 200 170 187C138 174 120 146 113 122Z',
};
const VEIN: Avoid = {
  id: 'vein',
  name: 'groove of the large vein',
  how: 'dotted',
  path: 'M126 160C140 180 156 196 170 216C176 226 182 236 188 250',
};
const NERVE: Avoid = {
  id: 'nerve',
  name: 'sciatic nerve',
  how: 'dotted',
  path: 'M450 136C468 144 478 168 472 204C467 232 464 252 466 270C468 284 474 296 480 306',
};
const GROOVE: Avoid = {
  id: 'groove',
  name: 'groove between the muscles',
  how: 'dotted',
  path: 'M508 168C500 190 494 218 493 246C493 260 496 272 500 282',
};
const RIB_GAPS: Avoid = {
  id: 'ribs',
  name: 'gaps between the ribs',
  how: 'dotted',
  path: 'M282 150C274 180 274 214 284 248M304 148C296 180 296 216 306 252M326 148C318 180 318 216 328 254',
};
const CHEST: Avoid = {
  id: 'chest',
  name: 'wall of the chest',
  how: 'hatched',
  path: 'M252 236C264 246 284 252 306 254L305 264C282 262 260 255 246 246Z',
};

/** What to avoid at each place. */
export const AVOIDED: Readonly<Record<NeedleRoute, Partial<Readonly<Record<SiteId, readonly Avoid[]>>>>> = {
  sc: { neck: [VEIN], elbow: [CHEST], ribs: [RIB_GAPS] },
  im: { neck: [LIGAMENT, VERTEBRAE, VEIN], rump: [NERVE], 'hind-leg': [NERVE, GROOVE] },
};

/** What one feels for to find a place, with where its name stands. */
export type Landmark = { readonly name: string; readonly x: number; readonly y: number };
export const LANDMARKS: Readonly<
  Record<NeedleRoute, Partial<Readonly<Record<SiteId, readonly Landmark[]>>>>
> = {
  sc: {
    neck: [{ name: 'ear', x: 150, y: 96 }],
    elbow: [{ name: 'elbow', x: 240, y: 288 }],
    ribs: [{ name: 'shoulder', x: 246, y: 172 }],
  },
  im: {
    neck: [
      { name: 'jaw', x: 110, y: 160 },
      { name: 'shoulder', x: 240, y: 160 },
    ],
    rump: [{ name: 'point of the hip', x: 414, y: 138 }],
    'hind-leg': [
      { name: 'seat bone', x: 516, y: 166 },
      { name: 'stifle', x: 450, y: 276 },
    ],
  },
};

/** The part of the drawing that is shown near: left, top, width, height. */
export const NEAR: Readonly<Record<SiteId, readonly [x: number, y: number, w: number, h: number]>> = {
  neck: [88, 62, 220, 200],
  elbow: [160, 130, 220, 200],
  ribs: [180, 100, 220, 200],
  rump: [350, 92, 220, 200],
  'hind-leg': [366, 122, 220, 200],
};

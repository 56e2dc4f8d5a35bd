/**
 * What to do first when a person came into contact with a medicine. Common practice without a source; the doctor, the
 * poison line and the label go before it. Where no needle is in use nothing is said of one.
 */

export type FirstStep = { readonly word: string; readonly says: string };

export const FIRST_STEPS_SOURCE =
  'Common practice for first steps. The doctor, the poison line of your country and the label come first.';

const CALL: FirstStep = {
  word: 'Then',
  says: 'Call the emergency number or a doctor at once, even when it does not hurt yet. Say that it is an animal medicine, and read its name from the bottle.',
};
const EYES: FirstStep = {
  word: 'Eyes, mouth',
  says: 'Splashed: rinse with clean running water for a quarter of an hour, and call as above.',
};
const INJECTED: readonly FirstStep[] = [
  {
    word: 'First',
    says: 'Stop the work. Let the animal go and put the syringe down. Nobody who was injected drives.',
  },
  CALL,
  {
    word: 'Meanwhile',
    says: 'Lay the person down and keep that arm or leg still. Wash the place with soap and water. Do not squeeze, cut or bandage it tight.',
  },
  EYES,
  {
    word: 'Oil',
    says: 'Oil in a vaccine or an injection can cost a finger within hours, however small the place looks: say “oil” to the doctor in the first sentence. Some other medicines stop the breath or the heart.',
  },
];
const NOT_INJECTED: readonly FirstStep[] = [
  { word: 'First', says: 'Stop the work and let the animal go. Take off what is wet with it.' },
  CALL,
  {
    word: 'Meanwhile',
    says: 'On the skin: wash with plenty of soap and water. Swallowed: rinse the mouth, drink nothing else and do not bring it up, unless the doctor says so.',
  },
  EYES,
];

/** What is taken along to the doctor. */
export const TAKE_ALONG = 'Take this sheet, the bottle and its leaflet with you.';

/** The first steps in their order. */
export function firstSteps(isInjected: boolean): readonly FirstStep[] {
  return isInjected ? INJECTED : NOT_INJECTED;
}

/** What the sheet is called. */
export function emergencyTitle(isInjected: boolean): string {
  return isInjected
    ? 'A person was injected or splashed'
    : 'A person swallowed it, or it got on skin or eyes';
}

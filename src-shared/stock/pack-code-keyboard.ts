/**
 * A scanner types as a keyboard does. When it is set for another country than the computer, its digits come out as
 * signs, or its brackets as others; this tells that from a scan that is merely damaged. Which signs stand where is
 * from memory. It cannot tell Y from Z by itself: only the prefix or the brackets show that letters are right.
 */

/** The signs that come out for 0 to 9. */
const DIGITS_AS: readonly string[] = [
  // Typed without the shift key on a French keyboard.
  'à&é"\'(-è_ç',
  // Typed with the shift key held: United States, Britain, Germany.
  ')!@#$%^&*(',
  ')!"£$%^&*(',
  '=!"§$%&/()',
];

const STARTS = /^(\(?01\)?\d{14}|\(?(10|11|15|17|21)\)?|\d{13}$)/;

/** What is wrong with the keyboard a scan came through, as the end of a sentence; nothing where it looks right. */
export function wrongKeyboard(text: string): string | undefined {
  if (/^(D2|c1|q3)/.test(text.slice(1)) && text.startsWith(']')) {
    return 'came with capital and small letters changed round: Caps Lock may be on';
  }
  const other = 'came through a keyboard set for another country than the scanner';
  if (/^[^\]\d(A-Za-z][dDcCeEqQ][0-9àé&"'(]/.test(text)) return other;
  // Brackets that became others: ")01=05012345678900".
  if (/^[)*]\d{2,4}[=(_]/.test(text)) return other;
  if (/^\d/.test(text) || /^\(\d{2,4}\)/.test(text)) return undefined;
  return DIGITS_AS.some((signs) => isTypedAs(text, signs)) ? other : undefined;
}

function isTypedAs(text: string, signs: string): boolean {
  let found = 0;
  let read = '';
  for (const letter of text) {
    const digit = signs.indexOf(letter);
    if (digit >= 0) found += 1;
    read += digit < 0 ? letter : String(digit);
  }
  return found >= 6 && STARTS.test(read);
}

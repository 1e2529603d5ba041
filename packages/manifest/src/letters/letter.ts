declare const letterMark: unique symbol;

/** A revision letter: A … Y, AA … YY, without I, O, Q, S, X, Z. Comes only from `parseLetter` and `nextLetter`. */
export type Letter = string & { readonly [letterMark]: true };

/** Letters in their order. ASME Y14.35 practice (known at second hand: the standard itself was not readable). */
const alphabet = 'ABCDEFGHJKLMNPRTUVWY';

/** How many letters there are: 20 of one sign, 400 of two. ASME Y14.35, from memory: at most two. */
export const letterCount = alphabet.length + alphabet.length ** 2;

/** The letter that the text is, or null: no lower case, no spaces, no I, O, Q, S, X, Z, at most two signs. */
export function parseLetter(text: string): Letter | null {
  if (text.length < 1 || text.length > 2) return null;
  for (const sign of text) if (!alphabet.includes(sign)) return null;
  return text as Letter;
}

/** Place in the sequence, from 0 (A) to 419 (YY). */
export function letterIndex(letter: Letter): number {
  let index = 0;
  for (const sign of letter) index = index * alphabet.length + alphabet.indexOf(sign) + 1;
  return index - 1;
}

/** The letter at a place in the sequence; null outside 0 … 419. */
export function letterAt(index: number): Letter | null {
  if (!Number.isInteger(index) || index < 0 || index >= letterCount) return null;
  const base = alphabet.length;
  if (index < base) return alphabet[index] as Letter;
  const rest = index - base;
  return `${alphabet[Math.floor(rest / base)]}${alphabet[rest % base]}` as Letter;
}

/** The letter that follows; A after none; null after YY. */
export function nextLetter(letter: Letter | null): Letter | null {
  return letterAt(letter === null ? 0 : letterIndex(letter) + 1);
}

/** Negative when `a` is older than `b`. Never compare letters as strings: B comes before AA. */
export function compareLetters(a: Letter, b: Letter): number {
  return letterIndex(a) - letterIndex(b);
}

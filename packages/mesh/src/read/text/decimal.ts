const zero = 0x30;
const nine = 0x39;

/** 10^0 … 10^22: the powers of ten that a double holds exactly. */
const exactPowers = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));

/**
 * The decimal number written in ASCII in `bytes[start…end)`, correctly rounded; NaN when it is not one.
 *
 * Takes what C prints and reads: `2`, `+2`, `-.5`, `1.`, `1e-3`. No hexadecimal, no blanks, no decimal comma.
 * Beyond the range of doubles it is an infinity.
 *
 * Up to 15 digits and powers up to 10^22 take the exact short way (W. D. Clinger, How to read floating point
 * numbers accurately, 1990); the rest goes through the engine's own conversion.
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number): number {
  let at = start;
  const negative = bytes[at] === 0x2d;
  if (negative || bytes[at] === 0x2b) at++;
  let mantissa = 0;
  let digits = 0;
  let significant = 0;
  let exponent = 0;
  let byte = at < end ? bytes[at] : 0;
  while (byte >= zero && byte <= nine) {
    mantissa = mantissa * 10 + (byte - zero);
    if (mantissa !== 0) significant++;
    digits++;
    byte = ++at < end ? bytes[at] : 0;
  }
  if (byte === 0x2e) {
    byte = ++at < end ? bytes[at] : 0;
    while (byte >= zero && byte <= nine) {
      mantissa = mantissa * 10 + (byte - zero);
      if (mantissa !== 0) significant++;
      digits++;
      exponent--;
      byte = ++at < end ? bytes[at] : 0;
    }
  }
  if (digits === 0) return NaN;
  if (byte === 0x65 || byte === 0x45) {
    byte = ++at < end ? bytes[at] : 0;
    const down = byte === 0x2d;
    if (down || byte === 0x2b) byte = ++at < end ? bytes[at] : 0;
    if (!(byte >= zero && byte <= nine)) return NaN;
    let power = 0;
    while (byte >= zero && byte <= nine) {
      power = Math.min(power * 10 + (byte - zero), 99_999);
      byte = ++at < end ? bytes[at] : 0;
    }
    exponent += down ? -power : power;
  }
  if (at !== end) return NaN;
  if (significant > 15 || exponent > 22 || exponent < -22) return Number(asciiText(bytes, start, end));
  const value = exponent < 0 ? mantissa / exactPowers[-exponent] : mantissa * exactPowers[exponent];
  return negative ? -value : value;
}

/** The integer written in ASCII in `bytes[start…end)`, sign allowed, up to 15 digits; NaN when it is not one. */
export function parseInteger(bytes: Uint8Array, start: number, end: number): number {
  const negative = bytes[start] === 0x2d;
  const first = negative || bytes[start] === 0x2b ? start + 1 : start;
  if (end <= first || end - first > 15) return NaN;
  let value = 0;
  for (let at = first; at < end; at++) {
    const byte = bytes[at];
    if (byte < zero || byte > nine) return NaN;
    value = value * 10 + (byte - zero);
  }
  return negative ? -value : value;
}

/** Bytes as text, one character each. */
export function asciiText(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let at = start; at < end; at++) text += String.fromCharCode(bytes[at]);
  return text;
}

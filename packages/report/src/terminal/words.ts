import type { Vec3 } from '@kinprint/mesh';

/**
 * A stranger's text made harmless for a terminal: what would move the cursor or recolor the screen (controls), change
 * the order of the text (bidirectional marks), break lines, or cannot be seen (format characters, lone surrogates)
 * becomes a visible escape.
 */
export function clean(text: string): string {
  return text.replace(
    /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu,
    c => `\\u{${(c.codePointAt(0) ?? 0).toString(16)}}`,
  );
}

/** Shortest text of a number in mm, mm², mm³ …: `digits` decimals, fewer significant ones for tiny values. */
export function num(value: number, digits = 2): string {
  if (value === 0) return '0';
  const small = Math.abs(value) < 0.5 * 10 ** -digits;
  return minus(small ? value.toPrecision(2) : value.toFixed(digits));
}

/** A whole number with its thousands set apart by thin gaps: `12 408`. */
export function count(value: number): string {
  return minus(String(value)).replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
}

/** `+4.20`, `−0.10`; `±0` for nothing. */
export function signed(value: number, digits = 2): string {
  if (value === 0) return '±0';
  return value > 0 ? `+${num(value, digits)}` : num(value, digits);
}

/** `(1.20, 0, −3.00)`. */
export function point(p: Vec3, digits = 2): string {
  return `(${p.map(v => num(Math.abs(v) < 0.5 * 10 ** -digits ? 0 : v, digits)).join(', ')})`;
}

/** `82.40 × 61.10 × 28.00`. */
export function size(p: Vec3, digits = 2): string {
  return p.map(v => num(v, digits)).join(' × ');
}

/** `1 shell`, `2 shells`. */
export function plural(n: number, one: string, many = `${one}s`): string {
  return `${count(n)} ${n === 1 ? one : many}`;
}

/** `x`, `−y`, or `(0.26, 0, 0.97)`: a direction, named where it lies along an axis. */
export function direction(v: Vec3, digits = 3): string {
  const names = ['x', 'y', 'z'];
  for (let k = 0; k < 3; k += 1) {
    if (Math.abs(Math.abs(v[k as 0 | 1 | 2]) - 1) < 1e-6)
      return (v[k as 0 | 1 | 2] < 0 ? '−' : '') + (names[k] ?? '');
  }
  return point(v, digits);
}

function minus(text: string): string {
  return text.replace(/^-/, '−');
}

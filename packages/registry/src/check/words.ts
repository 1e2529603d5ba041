import type { Vec3 } from '@kinprint/mesh';

/** A length for a sentence: `3.20`, or so many digits that it is not 0. */
export function mm(value: number): string {
  const text = value.toFixed(2);
  return Number(text) === 0 && value !== 0 ? value.toPrecision(2) : text;
}

/** `(1.0, 0, −3.0)`. */
export function place(p: Vec3): string {
  return `(${p.map(v => (Math.abs(v) < 0.05 ? '0' : v.toFixed(1).replace(/^-/, '−'))).join(', ')})`;
}

/** `a`, `a and b`, `a, b and c`. */
export function listing(names: readonly string[], most = 6): string {
  const shown =
    names.length > most ? [...names.slice(0, most - 1), `${names.length - most + 1} more`] : names;
  return shown.length < 2 ? (shown[0] ?? '') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1) ?? ''}`;
}

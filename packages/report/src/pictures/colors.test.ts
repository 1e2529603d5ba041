import { describe, expect, it } from 'vitest';
import { added, clay, colors, removed, rgb, type Rgb } from './colors.ts';
import { deviationColor, roundLimit, vikAt } from './deviation-map.ts';
import { onSign } from './marks.ts';

const linear = (v: number): number =>
  v <= 0.04045 * 255 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4;

/** Contrast of two colors: W3C, Web Content Accessibility Guidelines 2.2, 'contrast ratio' and 'relative luminance'. */
function contrast(a: Rgb, b: Rgb): number {
  const [p, q] = [a, b].map(([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b));
  return (Math.max(p, q) + 0.05) / (Math.min(p, q) + 0.05);
}

/**
 * How colors look with a full deficiency: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A physiologically-based
 * model for simulation of color vision deficiency, IEEE TVCG 15 (2009), table for severity 1.0; on linear R, G, B.
 */
const deficiencies = {
  none: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
} as const;

/** CIE 1976 L*a*b* (D65) of what is seen; its distance is the color difference of ISO/CIE 11664-4. */
function lab(color: Rgb, matrix: readonly (readonly number[])[]): number[] {
  const from = color.map(linear);
  const [r, g, b] = matrix.map(row =>
    Math.min(
      1,
      Math.max(
        0,
        row.reduce((sum, m, k) => sum + m * from[k], 0),
      ),
    ),
  );
  const f = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function difference(a: Rgb, b: Rgb, kind: keyof typeof deficiencies): number {
  const [p, q] = [a, b].map(color => lab(color, deficiencies[kind]));
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

const kinds = Object.keys(deficiencies) as (keyof typeof deficiencies)[];

describe('contrast (WCAG 2.2)', () => {
  it('the formula gives the guideline’s own figures', () => {
    expect(contrast([0, 0, 0], [255, 255, 255])).toBeCloseTo(21, 10);
    // #767676 on white is the lightest gray that passes 4.5 : 1.
    expect(contrast([0x76, 0x76, 0x76], [255, 255, 255])).toBeGreaterThan(4.5);
    expect(contrast([0x77, 0x77, 0x77], [255, 255, 255])).toBeLessThan(4.5);
  });

  it.each([
    ['ink', 'page'],
    ['ink', 'card'],
    ['soft', 'page'],
    ['soft', 'card'],
  ] as const)('text: %s on %s, at least 4.5 : 1 (1.4.3)', (text, ground) => {
    expect(contrast(rgb(colors[text]), rgb(colors[ground]))).toBeGreaterThanOrEqual(4.5);
  });

  it('marks: against the material, against their signs, and lines against both, at least 3 : 1 (1.4.11)', () => {
    for (const [a, b] of [
      [added, clay],
      [removed, clay],
      [added, [255, 255, 255]],
      [removed, [255, 255, 255]],
      [rgb(colors.ink), clay],
      [rgb(colors.soft), rgb(colors.card)],
    ] as const)
      expect(contrast(a, b)).toBeGreaterThanOrEqual(3);
  });
});

describe('color vision deficiencies', () => {
  it.each(kinds)('%s: added, removed and the material are far apart', kind => {
    // 2.3 is a difference just seen (M. Mahy et al., Color Res. Appl. 19 (1994)); ten times that is another color.
    for (const [a, b] of [
      [added, removed],
      [added, clay],
      [removed, clay],
    ] as const)
      expect(difference(a, b, kind)).toBeGreaterThan(23);
  });

  it.each(kinds)(
    '%s: both ways of a deviation differ, the more the farther, up to half of the scale',
    kind => {
      let last = 0;
      for (const share of [0.1, 0.25, 0.5]) {
        const found = difference(deviationColor(share, 1), deviationColor(-share, 1), kind);
        expect(found).toBeGreaterThan(last);
        last = found;
      }
      expect(last).toBeGreaterThan(23);
      expect(difference(deviationColor(1, 1), deviationColor(-1, 1), kind)).toBeGreaterThan(23);
    },
  );
});

describe('signs', () => {
  it('added has upright strokes, removed has none, and both are strewn as densely', () => {
    const count = (kind: 'added' | 'removed', upright: boolean): number => {
      let n = 0;
      for (let y = 0; y < 110; y++)
        for (let x = 0; x < 140; x++)
          if (onSign(kind, x, y) && (upright ? onSign(kind, x, y + 1) : onSign(kind, x + 1, y))) n++;
      return n;
    };
    expect(count('removed', true)).toBe(0);
    expect(count('added', true)).toBeGreaterThan(0);
    expect(count('added', false)).toBe(count('removed', false));
  });
});

describe('the deviation map', () => {
  // Crameri's own six-step version of vik; ours is made of the twelve-step one.
  const six = [
    [0, 0x12, 0x61],
    [17, 100, 150],
    [167, 201, 218],
    [225, 184, 160],
    [183, 90, 38],
    [0x59, 0, 8],
  ];

  it.each(six.map((color, k) => [k / 5, color] as const))('at %d is what is published', (share, color) => {
    vikAt(share).forEach((v, k) => expect(Math.abs(v - color[k])).toBeLessThanOrEqual(5));
  });

  it('is blue outward and brown inward, and takes anything', () => {
    const [out, into] = [deviationColor(1, 1), deviationColor(-1, 1)];
    expect(out[2]).toBeGreaterThan(out[0]);
    expect(into[0]).toBeGreaterThan(into[2]);
    expect(deviationColor(50, 1)).toEqual(out);
  });

  it('has round ends that are not below the largest value', () => {
    expect([0.0234, 1, 1.01, 2.158, 7.9, 9.9, 0].map(roundLimit)).toEqual([0.024, 1, 1.2, 2.4, 8, 10, 1]);
  });
});

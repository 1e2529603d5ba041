import { colors } from './colors.ts';
import { letteringWidth } from './lettering.ts';
import type { Item } from './sheet.ts';

export interface ScaleBar {
  readonly length_mm: number;
  readonly length_px: number;
}

/** The longest bar of 1, 2 or 5 times a power of ten millimeters that is no longer than `room_px`. */
export function scaleBar(pixelsPerMm: number, room_px: number): ScaleBar {
  const most = room_px / pixelsPerMm;
  // Powers of ten from their decimal text are the nearest doubles everywhere; those of Math.pow need not be.
  const [mantissa, exponent] = most.toExponential(15).split('e');
  const first = Number(mantissa);
  const step = first >= 5 ? 5 : first >= 2 ? 2 : 1;
  const length_mm = Number(`${step}e${exponent}`);
  return { length_mm, length_px: length_mm * pixelsPerMm };
}

/** The bar with its length in words, its left end at x, y. */
export function drawScaleBar({ length_mm, length_px }: ScaleBar, x: number, y: number, size: number): Item[] {
  const label = `${length_mm} mm`;
  const half = length_px / 2;
  return [
    {
      kind: 'stroke',
      color: colors.ink,
      width: 1.4,
      lines: [
        [x, y, x + length_px, y],
        [x, y - 5, x, y + 5],
        [x + length_px, y - 5, x + length_px, y + 5],
        [x + half, y - 3, x + half, y + 3],
      ],
    },
    { kind: 'text', x: x + length_px + 10, y: y + size / 2, text: label, size, color: colors.ink },
  ];
}

/** What the bar and its words take up. */
export function scaleBarWidth({ length_mm, length_px }: ScaleBar, size: number): number {
  return length_px + 10 + letteringWidth(`${length_mm} mm`, size);
}

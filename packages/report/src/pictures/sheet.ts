import type { Pixels } from './shade.ts';

/** What a picture is composed of, back to front, in pixels; y is downward. */
export type Item =
  | {
      /** Shaded pixels, their upper left corner at x, y. */
      readonly kind: 'raster';
      readonly x: number;
      readonly y: number;
      readonly pixels: Pixels;
      /** What is to be seen, for whoever cannot see it. */
      readonly title: string;
    }
  | {
      readonly kind: 'stroke';
      /** Lines through points: x, y of each. */
      readonly lines: readonly (readonly number[])[];
      readonly color: string;
      readonly width: number;
      readonly opacity?: number;
      /** Lengths of dash and gap. */
      readonly dash?: readonly [number, number];
    }
  | {
      readonly kind: 'fill';
      /** Corners of one closed outline: x, y of each. */
      readonly outline: readonly number[];
      readonly color: string;
      readonly opacity?: number;
    }
  | {
      readonly kind: 'text';
      /** Where the baseline begins. */
      readonly x: number;
      readonly y: number;
      readonly text: string;
      /** Height of the capitals. */
      readonly size: number;
      readonly color: string;
      readonly weight?: 'plain' | 'bold';
      /** Turned by this direction of the baseline (unit vector); level where left out. */
      readonly along?: readonly [number, number];
    };

export interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly background: string;
  /** In a few words what is shown, and in some sentences. */
  readonly title: string;
  readonly description: string;
  readonly items: readonly Item[];
}

/** A circle as an outline of 48 corners; no angle is computed, so it is the same everywhere. */
export function circle(x: number, y: number, radius: number): number[] {
  return unitCircle.map((v, k) => (k % 2 === 0 ? x : y) + radius * v);
}

const unitCircle = ((): readonly number[] => {
  // cos and sin of 7.5°, as literals.
  const [c, s] = [0.9914448613738104, 0.13052619222005157];
  const out: number[] = [];
  let [x, y] = [1, 0];
  for (let k = 0; k < 48; k++) {
    out.push(x, y);
    [x, y] = [c * x - s * y, s * x + c * y];
  }
  return out;
})();

export function rectangle(x: number, y: number, width: number, height: number): number[] {
  return [x, y, x + width, y, x + width, y + height, x, y + height];
}

/** The outline as a line that ends where it begins. */
export function closed(outline: readonly number[]): number[] {
  return [...outline, outline[0], outline[1]];
}

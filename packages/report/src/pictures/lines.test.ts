import { describe, expect, it } from 'vitest';
import { axesOf, cameraFor } from './camera.ts';
import { depthImage } from './depth-image.ts';
import { squareOn, threeQuarter } from './directions.ts';
import { visibleLines, type VisibleLine } from './lines.ts';
import { surfaceOf } from './surface.ts';
import { ball, box, nothing } from './testing/shapes.ts';
import { joined } from '../../../mesh/src/testing/motions.ts';
import type { Mesh } from '@kinprint/mesh';
import type { ViewDirection } from './camera.ts';

const frame = { width_px: 500, height_px: 400, margin_px: 20 };

function linesOf(mesh: Mesh, direction: ViewDirection): { lines: VisibleLine[]; pixelsPerMm: number } {
  const camera = cameraFor([mesh], direction, frame);
  return {
    lines: visibleLines(surfaceOf(mesh), depthImage(mesh, camera)),
    pixelsPerMm: camera.pixelsPerMm,
  };
}

function length(lines: readonly VisibleLine[], kind?: VisibleLine['kind']): number {
  let sum = 0;
  for (const line of lines) {
    if (kind !== undefined && line.kind !== kind) continue;
    const p = line.points;
    for (let k = 2; k < p.length; k += 2) sum += Math.hypot(p[k] - p[k - 2], p[k + 1] - p[k - 1]);
  }
  return sum;
}

describe('hidden lines', () => {
  const [a, b, c] = [30, 20, 12];
  const solid = box([0, 0, 0], [a, b, c]);

  it.each(threeQuarter)(
    'of a box from the $name: nine of its twelve edges are seen, six of them as outline',
    direction => {
      const { lines, pixelsPerMm } = linesOf(solid, direction);
      const { right, up } = axesOf(direction);
      // Projected lengths of the edges along x, y and z.
      const [x, y, z] = [a, b, c].map(
        (side, k) => side * pixelsPerMm * Math.hypot(right[k as 0], up[k as 0]),
      );
      const near = (actual: number, expected: number) =>
        expect(Math.abs(actual / expected - 1)).toBeLessThan(0.01);
      near(length(lines), 3 * (x + y + z));
      near(length(lines, 'outline'), 2 * (x + y + z));
      near(length(lines, 'edge'), x + y + z);
    },
  );

  it('square on: four edges', () => {
    const { lines, pixelsPerMm } = linesOf(solid, squareOn[4]);
    expect(Math.abs(length(lines) / (2 * (a + b) * pixelsPerMm) - 1)).toBeLessThan(0.01);
  });

  it('what stands wholly behind is not drawn', () => {
    const behind = box([5, 30, 2], [20, 40, 10]);
    const alone = linesOf(joined(solid, box([0, 30, 0], [0.001, 40, 0.001])), squareOn[0]);
    const both = linesOf(joined(solid, behind), squareOn[0]);
    expect(
      Math.abs(length(both.lines) / both.pixelsPerMm - length(alone.lines) / alone.pixelsPerMm),
    ).toBeLessThan(0.2);
    expect(Math.abs(length(both.lines) / (2 * (a + c) * both.pixelsPerMm) - 1)).toBeLessThan(0.01);
  });

  it('what looks out behind is drawn as far as it does', () => {
    // A narrower box, 6 higher: its two upright edges show for 6, its top edge for all its length.
    const both = linesOf(joined(solid, box([3, 30, 6], [a - 3, 40, 6 + c])), squareOn[0]);
    expect(
      Math.abs(length(both.lines) / ((2 * (a + c) + (a - 6) + 2 * 6) * both.pixelsPerMm) - 1),
    ).toBeLessThan(0.015);
  });

  it('a smooth ball has an outline and no edges', () => {
    const { lines, pixelsPerMm } = linesOf(ball(10, 120), threeQuarter[1]);
    expect(length(lines, 'edge')).toBe(0);
    expect(Math.abs(length(lines, 'outline') / (2 * Math.PI * 10 * pixelsPerMm) - 1)).toBeLessThan(0.01);
  });

  it('ends of an open surface are drawn as such', () => {
    const one = {
      positions: Float64Array.of(0, 0, 0, 10, 0, 0, 0, 10, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    for (const direction of [squareOn[4], squareOn[5]]) {
      const { lines, pixelsPerMm } = linesOf(one, direction);
      expect(Math.abs(length(lines, 'open') / ((20 + Math.SQRT2 * 10) * pixelsPerMm) - 1)).toBeLessThan(0.01);
      expect(length(lines)).toBe(length(lines, 'open'));
    }
  });

  it('nothing has no lines', () => {
    expect(linesOf(nothing, threeQuarter[0]).lines).toEqual([]);
  });
});

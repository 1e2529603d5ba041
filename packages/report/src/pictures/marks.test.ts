import { buildTree, type Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { bestOf, showings } from './best-direction.ts';
import { cameraFor, type ViewDirection } from './camera.ts';
import { depthImage } from './depth-image.ts';
import { contour, deviationField } from './deviation-field.ts';
import { directions, squareOn } from './directions.ts';
import { marksOf, sightings, type ChangedSolid } from './marks.ts';
import { viewOf } from './panel.ts';
import { surfaceOf } from './surface.ts';
import { box } from './testing/shapes.ts';
import { joined } from '../../../mesh/src/testing/motions.ts';

const plate = box([0, 0, 0], [40, 30, 5]);
const boss = box([10, 10, 5], [16, 14, 8]);
const withBoss = joined(plate, boss);
const frame = { width_px: 400, height_px: 300, margin_px: 10 };
const [front, , , , top, bottom] = squareOn;

function marked(
  mesh: Mesh,
  other: Mesh,
  pieces: ChangedSolid[],
  shown: 'before' | 'after',
  from: ViewDirection,
): number {
  const image = depthImage(mesh, cameraFor([mesh], from, frame));
  const marks = marksOf(image, pieces, shown, buildTree(other), 1e-3);
  const sample_mm = 1 / (image.camera.pixelsPerMm * image.samples);
  return marks.filter(mark => mark > 0).length * sample_mm * sample_mm;
}

describe('marks', () => {
  const added: ChangedSolid[] = [{ kind: 'added', mesh: boss }];
  const removed: ChangedSolid[] = [{ kind: 'removed', mesh: boss }];

  it('added: the faces of the boss that are seen, by their areas', () => {
    expect(Math.abs(marked(withBoss, plate, added, 'after', top) / 24 - 1)).toBeLessThan(0.03);
    expect(Math.abs(marked(withBoss, plate, added, 'after', front) / 18 - 1)).toBeLessThan(0.03);
    expect(marked(withBoss, plate, added, 'after', bottom)).toBe(0);
    expect(marked(plate, withBoss, added, 'before', top)).toBe(0);
  });

  it('removed: the boss before, and the place where it stood after', () => {
    expect(Math.abs(marked(withBoss, plate, removed, 'before', top) / 24 - 1)).toBeLessThan(0.03);
    // The outline of what stood there coincides with the other surface, so its rim does not count.
    expect(marked(plate, box([0, 0, 0], [40, 30, 4]), removed, 'after', top)).toBeGreaterThan(23);
  });

  it('are pointed to where they are', () => {
    const image = depthImage(withBoss, cameraFor([withBoss], top, frame));
    const [at] = sightings(marksOf(image, added, 'after', buildTree(plate), 1e-3), image, 1);
    const s = image.camera.pixelsPerMm;
    expect(Math.abs((at?.x ?? 0) - (200 + (13 - 20) * s))).toBeLessThan(2);
    expect(Math.abs((at?.y ?? 0) - (150 - (12 - 15) * s))).toBeLessThan(2);
  });

  it('the direction that shows most is found: a boss below is not looked for from above', () => {
    const under = box([10, 10, -3], [16, 14, 0]);
    const after = joined(plate, under);
    const states = { before: plate, after, trees: { before: buildTree(plate), after: buildTree(after) } };
    const best = bestOf(showings(states, [{ kind: 'added', mesh: under }], directions, 1e-3));
    expect(best.direction.toward[2]).toBeLessThan(0);
    expect(best.visible_mm2).toBeGreaterThan(20);
  });
});

describe('deviation', () => {
  it('of a plate 2 mm thicker is 2 outward on top, and 2 inward the other way round', () => {
    const thick = box([0, 0, 0], [40, 30, 7]);
    for (const [now, was, expected] of [
      [thick, plate, 2],
      [plate, thick, -2],
    ] as const) {
      const view = viewOf(surfaceOf(now), cameraFor([now], top, frame));
      const { values } = deviationField(
        view,
        buildTree(was),
        new Uint16Array(view.image.depth.length),
        [],
        1e-3,
      );
      expect(values[150 * 400 + 200]).toBeCloseTo(expected, 5);
    }
  });

  it('contours of a ramp are where the ramp has the value', () => {
    const [width, height] = [30, 10];
    const values = Float32Array.from({ length: width * height }, (_, k) => (k % width) / 10);
    const lines = contour({ width, height, values, most_mm: 3 }, 1.25);
    expect(lines).toHaveLength(height - 1);
    for (const [ax, , bx] of lines) {
      expect(ax).toBeCloseTo(13, 4);
      expect(bx).toBeCloseTo(13, 4);
    }
  });
});

import { buildTree, closestHit, closestPoint, type Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { bestOf, showings } from './best-direction.ts';
import { cameraFor, unproject, type ViewDirection } from './camera.ts';
import { depthImage } from './depth-image.ts';
import { contour, deviationField } from './deviation-field.ts';
import { directions, squareOn, threeQuarter } from './directions.ts';
import { marksOf, sightings, type ChangedSolid } from './marks.ts';
import { viewOf } from './panel.ts';
import { surfaceOf } from './surface.ts';
import { ball, box } from './testing/shapes.ts';
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

  it('are away from the other surface, sample by sample, and all that are away are marked', () => {
    // A ball that rises out of the plate: its marks end where the surfaces part. The judge asks for every sample.
    const other = buildTree(plate);
    const hit = closestHit();
    const risen = ball(6, 48);
    for (let k = 0; k < risen.positions.length; k++) risen.positions[k] += [20, 15, 4][k % 3];
    const after = joined(plate, risen);
    const piece: ChangedSolid[] = [{ kind: 'added', mesh: after }];
    for (const within_mm of [1e-3, 0.7]) {
      const image = depthImage(
        after,
        cameraFor([after], threeQuarter[0], { ...frame, width_px: 120, height_px: 90 }),
      );
      const marks = marksOf(image, piece, 'after', other, within_mm);
      const { camera, samples, width, depth } = image;
      let away = 0;
      for (let k = 0; k < marks.length; k++) {
        if (depth[k] === -Infinity) continue;
        const [x, y] = [k % width, Math.floor(k / width)];
        const p = unproject(camera, (x + 0.5) / samples, (y + 0.5) / samples, depth[k]);
        closestPoint(other, ...p, hit);
        const distance = Math.sqrt(hit.distanceSq);
        if (Math.abs(distance - within_mm) < 1e-6) continue;
        expect(marks[k]).toBe(distance > within_mm ? 1 : 0);
        if (distance > within_mm) away++;
      }
      expect(away).toBeGreaterThan(1000);
    }
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
      const view = viewOf(surfaceOf(now), cameraFor([now], top, frame), 50);
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

  it('of a slanted plate is that of every pixel asked for itself, nearly everywhere to a hundredth of a pixel', () => {
    const slanted = box([0, 0, 0], [40, 30, 5]);
    // The top rises to the right.
    for (let k = 0; k < slanted.positions.length; k += 3)
      if (slanted.positions[k + 2] > 4) slanted.positions[k + 2] += slanted.positions[k] / 10;
    const tree = buildTree(joined(plate, boss));
    const view = viewOf(
      surfaceOf(slanted),
      cameraFor([slanted], threeQuarter[0], { ...frame, margin_px: 60 }),
      50,
    );
    const { image } = view;
    const { values, width } = deviationField(view, tree, new Uint16Array(image.depth.length), [], 1e-3);
    const { camera, samples } = image;
    const middle = samples >> 1;
    const hit = closestHit();
    let seen = 0;
    let rough = 0;
    for (let k = 0; k < values.length; k++) {
      const [x, y] = [k % width, Math.floor(k / width)];
      const at = (y * samples + middle) * image.width + x * samples + middle;
      if (image.face[at] < 0) continue;
      closestPoint(tree, ...unproject(camera, x + 0.5, y + 0.5, image.depth[at]), hit);
      const distance = Math.sqrt(hit.distanceSq);
      const off_px = Math.abs(Math.abs(values[k]) - (distance <= 1e-3 ? 0 : distance)) * camera.pixelsPerMm;
      // Where another face comes nearer between two pixels; a distance cannot change faster than the place.
      expect(off_px).toBeLessThan(1);
      if (off_px > 0.01) rough++;
      seen++;
    }
    expect(seen).toBeGreaterThan(5000);
    expect(rough / seen).toBeLessThan(0.005);
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

import { expect, test } from 'vitest';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import { moved, rotation, scaled } from '../../../mesh/src/testing/motions.ts';
import { box, prism, tetrahedron, tube } from '../../../mesh/src/testing/shapes.ts';
import { isOwnMirrorImage } from './own-mirror-image.ts';
import { resultOrThrow } from './outcome.ts';
import { runTask } from './run-task.ts';
import type { FileInput } from './task.ts';

const turned = (mesh: Mesh): Mesh => moved(mesh, rotation(0.9, 0.2, -0.3, 0.1), [12, -7, 40]);
/** A corner with legs of three lengths: no plane mirrors it onto itself. */
const handed = tetrahedron([0, 0, 0], [9, 0, 0], [0, 6, 0], [0, 0, 20]);

test.each([
  ['a box', turned(box(9, 6, 20)), true],
  ['a prism of seven sides', turned(prism(7, 8, 3)), true],
  ['a tube', turned(tube(32, 9, 7, 12)), true],
  ['a corner with legs of three lengths', turned(handed), false],
])('%s: whether it is its own mirror image', (_, mesh, expected) => {
  expect(isOwnMirrorImage(mesh)).toBe(expected);
});

test('a tolerance counts in millimeters, whatever unit the file is read in', async () => {
  // Two legs differ by 0.05 mm; as numbers in the file by 0.002.
  const nearly = scaled(tetrahedron([0, 0, 0], [9, 0, 0], [0, 9.05, 0], [0, 0, 20]), 1 / 25.4);
  const within = async (tolerance_mm: number): Promise<boolean> => {
    const options = { unit: 'inch', tolerance_mm } as const;
    return resultOrThrow(await runTask<'symmetric'>({ kind: 'symmetric', file: fileOf(nearly), options }));
  };
  expect(await within(0.01)).toBe(false);
  expect(await within(0.2)).toBe(true);
});

test('a relation tells the same as a whole comparison, without figures', async () => {
  const [before, after] = [handed, moved(scaled(handed, 1.25), rotation(0.9, 0.2, -0.3, 0.1), [12, -7, 40])];
  const files = { before: fileOf(before), after: fileOf(after) };
  const relation = resultOrThrow(await runTask<'relate'>({ kind: 'relate', ...files, options: {} }));
  const { comparison } = resultOrThrow(await runTask<'compare'>({ kind: 'compare', ...files, options: {} }));
  expect(relation.verdict).toBe('rescaled');
  expect(relation.alignment.scale[0]).toBeCloseTo(1.25, 5);
  expect({ verdict: comparison.verdict, alignment: comparison.alignment }).toEqual(relation);
});

function fileOf(mesh: Mesh): FileInput {
  return { name: 'part.stl', content: { kind: 'bytes', bytes: writeStlBinary(mesh) }, body: null };
}

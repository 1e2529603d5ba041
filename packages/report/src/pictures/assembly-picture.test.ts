import { rigidMotion, transformMesh, type Mesh, type Vec3 } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { box } from '../../../mesh/src/testing/shapes.ts';
import { assemblyPicture } from './assembly-picture.ts';
import type { Item } from './sheet.ts';
import { sheetPng } from './png.ts';
import { viewWords } from './view-words.ts';

const at = (mesh: Mesh, shift: Vec3): Mesh => transformMesh(mesh, rigidMotion(null, shift));
const block = box(20, 20, 10);

const texts = (items: readonly Item[]) => items.flatMap(item => (item.kind === 'text' ? [item.text] : []));

describe('a picture of parts put together', () => {
  const two = [
    { name: 'base', mesh: block },
    { name: 'lid', mesh: at(block, [0, 0, 10]) },
  ];

  it('names each part once, beside a line that ends on it', () => {
    const { sheet, size_mm } = assemblyPicture(two, ['strap'], 'cuff/left');
    expect(size_mm).toEqual([20, 20, 20]);
    expect(
      texts(sheet.items)
        .filter(text => text === 'base' || text === 'lid')
        .sort(),
    ).toEqual(['base', 'lid']);
    expect(sheet.description).toContain('not placed: strap');
    expect(sheet.description).not.toContain('hidden');
  });

  it('is as large as the parts together: two blocks of 20 × 10 seen from the front', () => {
    const front = viewWords.get('front');
    if (front === undefined) throw new Error();
    const { sheet, camera } = assemblyPicture(two, [], 'cuff/left', { direction: front });
    const [raster] = sheet.items.flatMap(item => (item.kind === 'raster' ? [item] : []));
    let covered = 0;
    const colors = new Map<string, number>();
    for (let k = 0; k < raster.pixels.data.length; k += 4) {
      if (raster.pixels.data[k + 3] < 255) continue;
      covered++;
      const color = raster.pixels.data.subarray(k, k + 3).join(' ');
      colors.set(color, (colors.get(color) ?? 0) + 1);
    }
    // The projected area of a cube of 20 mm, in closed form.
    expect(covered / (20 * camera.pixelsPerMm) ** 2).toBeCloseTo(1, 1);
    // Either block is flat to the eye, and in its own tint.
    const [first, second] = [...colors.values()].sort((a, b) => b - a).map(n => n / covered);
    expect(first).toBeGreaterThan(0.3);
    expect(second).toBeGreaterThan(0.3);
  });

  it('tells a part that is hidden inside another', () => {
    const { sheet } = assemblyPicture(
      [...two, { name: 'core', mesh: at(box(2, 2, 2), [9, 9, 4]) }],
      [],
      'cuff/left',
    );
    expect(sheet.description).toContain('hidden: core');
    expect(texts(sheet.items)).not.toContain('core');
  });

  it('is the same to the byte when drawn again, and bears parts without faces', () => {
    const empty = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    const draw = () =>
      sheetPng(assemblyPicture([...two, { name: 'none', mesh: empty }], [], 'cuff/left').sheet);
    expect(draw()).toEqual(draw());
    expect(assemblyPicture([{ name: 'none', mesh: empty }], [], 'x').size_mm).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { type Comparison, compareMeshes, materialWith } from '@kinprint/compare';
import { concatenate, type Mesh, measureMesh } from '@kinprint/mesh';
import { loadKernel } from '@kinprint/solid';
import { box, without } from '../support/meshes.ts';

const kernel = await loadKernel();

async function compare(before: Mesh, after: Mesh): Promise<Comparison> {
  const side = (mesh: Mesh): { mesh: Mesh; measurement: ReturnType<typeof measureMesh> } => ({
    mesh,
    measurement: measureMesh(mesh),
  });
  return compareMeshes(
    materialWith(() => Promise.resolve(kernel)),
    side(before),
    side(after),
  );
}

const codes = (c: Comparison): string[] => c.notes.map(n => n.code);

function turnedOver(mesh: Mesh): Mesh {
  const triangles = mesh.triangles.slice();
  for (let k = 0; k < triangles.length; k += 3) triangles.set([mesh.triangles[k + 1], mesh.triangles[k]], k);
  return { ...mesh, triangles };
}

/** Two boxes as one file. */
const pair = (at: readonly [number, number, number]): Mesh =>
  concatenate([box(10, 10, 10), box(10, 10, 10, at)]);

describe('what a comparison does not claim', () => {
  it('does not make one large cube from two small ones by scaling', async () => {
    const c = await compare(pair([5, 5, 5]), box(20, 20, 20));
    expect(c.verdict).toBe('replaced');
    expect(c.volume).toMatchObject({ added_mm3: null, removed_mm3: null });
  });

  it('does not call a mesh identical whose faces look inward', async () => {
    const c = await compare(box(20, 30, 50), turnedOver(box(20, 30, 50)));
    expect(c.verdict).toBe('same-shape');
    expect(codes(c)).toContain('inside-out');
  });

  it('gives no material for a face that lost its neighbors', async () => {
    const c = await compare(without(box(20, 30, 50), 2), box(20, 30, 51));
    expect(c.verdict).toBe('unsound');
    expect(c.volume.added_mm3).toBeNull();
    expect(codes(c)).toContain('deviation-of-holes');
  });
});

describe('bodies', () => {
  it('carries each body to its counterpart: nothing added, one moved (1000 mm³ each)', async () => {
    const c = await compare(pair([30, 0, 0]), pair([30, 12, 0]));
    expect(c.verdict).toBe('moved');
    expect(c.bodies.map(b => b.verdict).sort()).toEqual(['identical', 'moved']);
    expect(c.volume).toMatchObject({ before_mm3: 2000, after_mm3: 2000, added_mm3: 0, removed_mm3: 0 });
    expect(codes(c)).toContain('bodies-moved');
  });

  it('counts a body that appeared as added material', async () => {
    const c = await compare(box(10, 20, 30), concatenate([box(10, 20, 30), box(4, 5, 6, [40, 0, 0])]));
    expect(c.verdict).toBe('reworked');
    expect(c.volume.added_mm3).toBeCloseTo(120, 4);
    expect(c.volume.removed_mm3).toBeCloseTo(0, 6);
    expect(codes(c)).toContain('bodies-added');
  });
});

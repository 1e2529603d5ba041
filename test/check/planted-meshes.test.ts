import { afterAll, describe, expect, it } from 'vitest';
import { flipped, joined, scaled, without } from '../../packages/mesh/src/testing/motions.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, shell, solid } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in meshes', () => {
  const at = { file: manifest, line: 'mesh: parts/shell.stl', part: 'shell' } as const;

  it('bytes that are no mesh', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell, { 'shell.stl': new Uint8Array(100) });
    await expectOnly(registry, { code: 'mesh-unreadable', severity: 'error', ...at });
  });

  it('a hole in the surface', async () => {
    await expectOnly(one(shell, without(solid, 0)), {
      code: 'mesh-no-volume',
      severity: 'error',
      says: /First at/,
      ...at,
    });
  });

  it('faces that point inward', async () => {
    await expectOnly(
      one(shell, flipped(solid)),
      { code: 'mesh-inside-out', severity: 'error', ...at },
      'mesh-flaws',
    );
  });

  it('bodies that cross each other', async () => {
    const crossing = joined(solid, box(20, 30, 10, [5, 5, 5]));
    await expectOnly(one(shell, crossing), { code: 'mesh-crosses-itself', severity: 'warning', ...at });
  });

  it('a face without area', async () => {
    const { positions, triangles } = solid;
    const degenerate = { positions, triangles: Uint32Array.from([...triangles, 0, 1, 1]) };
    await expectOnly(one(shell, degenerate), { code: 'mesh-flaws', severity: 'warning', ...at });
  });

  it('a size that only another unit explains', async () => {
    await expectOnly(one(shell, scaled(solid, 0.001)), {
      code: 'mesh-unit-doubtful',
      severity: 'warning',
      ...at,
    });
    const { report } = await check(one(`${shell}    unit: meter\n`, scaled(solid, 0.001)));
    expect(report.findings).toEqual([]);
  });
});

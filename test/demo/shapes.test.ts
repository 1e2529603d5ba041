import { beforeAll, describe, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '@kinprint/solid';
import {
  buildMesh,
  cuffShell,
  gripPad,
  hingeLeaf,
  mirroredX,
  snapClip,
  strapBuckle,
  utensilSleeve,
  type Solid,
} from '../../tools/demo/shapes/index.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

function judged(shape: Solid): {
  shells: number;
  genus: number;
  volume: number;
  min: readonly number[];
  max: readonly number[];
} {
  const { positions, triangles } = buildMesh(kernel, shape);
  const mesh = new kernel.api.Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(positions),
    triVerts: triangles,
  });
  const solid = new kernel.api.Manifold(mesh);
  const shells = solid.decompose();
  try {
    const { min, max } = solid.boundingBox();
    return { shells: shells.length, genus: solid.genus(), volume: solid.volume(), min, max };
  } finally {
    for (const part of [solid, ...shells]) part.delete();
  }
}

describe('the shapes of the cuff', () => {
  // Handles counted by hand: each hole through a wall is one; a bore that crosses another opens one more per wall.
  const shapes: readonly (readonly [string, Solid, number])[] = [
    ['shell: two lugs, strap slot, clamping hole into the socket', cuffShell(), 4],
    ['shell of another size, with a rib', cuffShell({ palmBreadth: 66, rib: true }), 4],
    ['hinge leaf: knuckle, two screws, slot', hingeLeaf(), 4],
    ['strap buckle: two openings', strapBuckle(), 2],
    ['snap clip: one screw', snapClip(), 1],
    ['sleeve: opening, cross bore through both its walls', utensilSleeve(), 3],
    ['grip pad', gripPad(), 0],
  ];
  it.each(shapes)('%s', (_name, shape, genus) => {
    const found = judged(shape);
    expect(found.shells).toBe(1);
    expect(found.genus).toBe(genus);
    expect(found.volume).toBeGreaterThan(0);
  });

  it('makes the left shell the mirror image of the right one, which is not its own', () => {
    const right = judged(cuffShell());
    const left = judged(cuffShell({ hand: 'left' }));
    expect(left.volume).toBeCloseTo(right.volume, 3);
    expect(left.min[0]).toBeCloseTo(-right.max[0], 5);
    const difference: Solid = { op: 'difference', parts: [cuffShell(), mirroredX(cuffShell())] };
    expect(judged(difference).volume).toBeGreaterThan(100);
  });

  it('grows with the palm while bores stay', () => {
    const small = judged(cuffShell());
    const large = judged(cuffShell({ palmBreadth: 64 }));
    expect(large.max[0] - large.min[0] - (small.max[0] - small.min[0])).toBeGreaterThan(5);
    const bore = (palmBreadth: number): number =>
      judged(cuffShell({ palmBreadth, hingeBore: 3.0 })).volume - judged(cuffShell({ palmBreadth })).volume;
    expect(bore(64)).toBeCloseTo(bore(58), 2);
  });
});

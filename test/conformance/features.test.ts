import Module, { type Manifold as Solid } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildTree, findFeatures, thinnestWalls, type Bore, type Mesh, type Pin } from '@kinprint/mesh';

/** Parts cut by an independent kernel: its booleans leave slivers, split flats and vertices on the chords. */
let kernel: Awaited<ReturnType<typeof Module>>;

beforeAll(async () => {
  kernel = await Module();
  kernel.setup();
});

const block = (x: number, y: number, z: number): Solid => kernel.Manifold.cube([x, y, z], true);
const rod = (length: number, r: number, sides: number): Solid =>
  kernel.Manifold.cylinder(length, r, r, sides, true);

function meshOf(solid: Solid): Mesh {
  const { numVert, numProp, vertProperties, triVerts } = solid.getMesh();
  const positions = new Float32Array(3 * numVert);
  for (let i = 0; i < numVert; i++)
    for (let k = 0; k < 3; k++) positions[3 * i + k] = vertProperties[i * numProp + k];
  return { positions, triangles: triVerts };
}

/** kind, diameter, length, turn, through; bores and pins only. */
function roundsOf(solid: Solid): unknown[] {
  return findFeatures(meshOf(solid))
    .filter((f): f is Bore | Pin => f.kind !== 'plane')
    .map(f => [f.kind, to4(f.diameter_mm), to4(f.length_mm), to4(f.turn), f.through]);
}

const to4 = (value: number): number => Math.round(value * 1e4) / 1e4;

// Expected figures are the parameters that the parts are made of.
describe('features of parts cut by another kernel', () => {
  it('joins a bore that a cross hole breaks', () => {
    for (const r of [1.5, 2]) {
      const part = block(20, 20, 20)
        .subtract(rod(30, 1.5, 24))
        .subtract(rod(30, r, 32).rotate([90, 0, 0]));
      expect(roundsOf(part)).toEqual([
        ['bore', 2 * r, 20, 1, true],
        ['bore', 3, 20, 1, true],
      ]);
    }
  });

  it('keeps the same bore through two lugs as two', () => {
    const fork = block(20, 20, 20).subtract(block(8, 30, 18).translate([0, 0, 4]));
    const part = fork.subtract(rod(30, 1.5, 24).rotate([0, 90, 0]));
    expect(roundsOf(part)).toEqual([
      ['bore', 3, 6, 1, true],
      ['bore', 3, 6, 1, true],
    ]);
  });

  it('lists counterbore and bore', () => {
    const part = block(20, 20, 10)
      .subtract(rod(30, 1.7, 32))
      .subtract(rod(4, 3.2, 48).translate([0, 0, 5]));
    expect(roundsOf(part)).toEqual([
      ['bore', 6.4, 2, 1, true],
      ['bore', 3.4, 8, 1, true],
    ]);
  });

  it('measures a tilted bore along its axis', () => {
    const part = block(30, 30, 6).subtract(rod(60, 2, 24).rotate([50, 0, 0]));
    expect(roundsOf(part)).toEqual([['bore', 4, to4(6 / Math.cos((50 * Math.PI) / 180)), 1, true]]);
  });

  it('calls a bore with a drill point blind, a hidden cavity as well', () => {
    const point = kernel.Manifold.cylinder(0.9, 0, 1.5, 24).translate([0, 0, 0.1]);
    const blind = block(20, 20, 20)
      .subtract(rod(10, 1.5, 24).translate([0, 0, 6]))
      .subtract(point);
    expect(roundsOf(blind)).toEqual([['bore', 3, 9, 1, false]]);
    expect(roundsOf(block(20, 20, 20).subtract(rod(8, 2, 24)))).toEqual([['bore', 4, 8, 1, false]]);
  });

  it('sees an opening where the wall of a tube stands opposite', () => {
    const part = rod(20, 5, 96)
      .subtract(rod(30, 4, 96))
      .subtract(rod(30, 3, 48).rotate([0, 90, 0]).translate([15, 0, 0]));
    const [, cross] = roundsOf(part) as [unknown, [string, number, number, number, boolean]];
    expect([cross[0], cross[1], cross[4]]).toEqual(['bore', 6, true]);
  });

  it('lists half a bore of a split clamp, cut between vertices too', () => {
    for (const turn of [0, 15]) {
      const part = block(20, 20, 10)
        .subtract(rod(30, 3, 12).rotate([0, 0, turn]))
        .trimByPlane([1, 0, 0], 0);
      expect(roundsOf(part)).toEqual([['bore', 6, 10, 0.5, true]]);
    }
  });

  it('calls the ends of a slot and the fillets of a plate no bores or pins', () => {
    const ends = [-4, 4].map(x => rod(10, 2, 32).translate([x, 0, 0]));
    expect(roundsOf(block(30, 20, 5).subtract(kernel.Manifold.hull(ends)))).toEqual([]);
    const corners = [-9, 9].flatMap(x => [-6, 6].map(y => rod(5, 4, 32).translate([x, y, 0])));
    expect(roundsOf(kernel.Manifold.hull(corners))).toEqual([]);
  });

  it('keeps pieces parted by slots as one, and leaves the flat of a pin out', () => {
    const fingers = rod(10, 5, 64)
      .subtract(rod(20, 4, 64))
      .subtract(block(3, 20, 20))
      .subtract(block(20, 3, 20));
    const rounds = roundsOf(fingers) as [string, number, number, number, unknown][];
    expect(rounds.map(r => r.slice(0, 3))).toEqual([
      ['bore', 8, 10],
      ['pin', 10, 10],
    ]);
    // Each slot takes 2 asin(w / 2r) of the turn.
    expect(rounds[0][3]).toBeCloseTo(1 - (8 * Math.asin(1.5 / 4)) / (2 * Math.PI), 3);
    expect(rounds[1][3]).toBeCloseTo(1 - (8 * Math.asin(1.5 / 5)) / (2 * Math.PI), 3);
    const [pin] = roundsOf(rod(10, 3, 48).subtract(block(2, 10, 20).translate([3.3, 0, 0]))) as [unknown[]];
    expect(pin.slice(0, 3)).toEqual(['pin', 6, 10]);
    expect(pin[3]).toBeLessThan(0.8);
  });

  it('calls a countersink and a ball no cylinder', () => {
    const sink = kernel.Manifold.cylinder(2, 1.5, 3.5, 24).translate([0, 0, 0.2]);
    const part = block(20, 20, 4)
      .subtract(rod(10, 1.5, 24))
      .subtract(sink);
    expect(roundsOf(part)).toEqual([['bore', 3, 2.2, 1, true]]);
    expect(roundsOf(kernel.Manifold.sphere(5, 64))).toEqual([]);
  });

  it('finds the wall between a bore and the outside, and the rim of a pipe with a cap', () => {
    const thinnest = (solid: Solid) => {
      const mesh = meshOf(solid);
      return thinnestWalls(mesh, buildTree(mesh)).thinnest_mm;
    };
    const edge = block(20, 20, 5).subtract(block(5, 5, 20).rotate([0, 0, 45]).translate([5.5, 0, 0]));
    expect(thinnest(edge)).toBeCloseTo(4.5 - 2.5 * Math.SQRT2, 5);
    const pipe = rod(30, 8, 64).subtract(rod(28, 6, 64).translate([0, 0, -2]));
    expect(thinnest(pipe)).toBeCloseTo(2 * Math.cos(Math.PI / 64), 5);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massProperties } from '../mass/mass-properties.ts';
import {
  flipped,
  joined,
  moved,
  randomFrom,
  rotation,
  shuffled,
  translated,
  weldedExactly,
  without,
} from '../testing/motions.ts';
import { box, icosphere, prism, torus } from '../testing/shapes.ts';
import { cubesSharingEdge, cubesSharingFace, cubesSharingVertex } from '../testing/surfaces.ts';
import type { Mesh } from '../types.ts';
import { bodies } from './bodies.ts';
import { nestShells } from './nesting.ts';
import { shellBounds, shellTable } from './shell-table.ts';
import { subMesh } from './sub-mesh.ts';
import { topology } from './topology.ts';

function nest(mesh: Mesh) {
  const found = topology(mesh);
  const table = shellTable(mesh, found, [0, 0, 0]);
  const nesting = nestShells(mesh, table, found.label);
  return { ...nesting, parent: [...nesting.parent], sign: [...nesting.sign], table };
}

const ball = (r: number) => icosphere(r, 1);

describe('shellTable', () => {
  it('measures each shell by itself', () => {
    const mesh = weldedExactly(
      joined(box(1, 2, 3), without(box(1, 1, 1, [5, 0, 0]), 4), box(1, 1, 1, [1, 2, 0])),
    );
    const { table } = nest(mesh);
    expect([...table.starts]).toEqual([0, 12, 23, 35]);
    expect([0, 12, 23].map(i => table.faceList[i])).toEqual([0, 12, 23]);
    expect([...table.faceList].sort((a, b) => a - b)).toEqual([...Array(35).keys()]);
    expect([...table.closed]).toEqual([1, 0, 1]);
    expect(table.volume[0]).toBeCloseTo(6, 12);
    expect(table.area[2]).toBeCloseTo(6, 12);
    expect(shellBounds(table, 1)).toEqual({ min: [5, 0, 0], max: [6, 1, 1] });
  });
});

describe('nestShells', () => {
  it('finds cavities, bodies in cavities, and what is doubled', () => {
    const mesh = joined(ball(10), flipped(ball(8)), ball(5), ball(2), translated(ball(3), [30, 0, 0]));
    expect(nest(mesh)).toMatchObject({
      parent: [-1, 0, 1, 2, -1],
      sign: [1, -1, 1, 1, 1],
      inverted: [],
      doubled: [3],
    });
  });

  it('names inward shells that are no cavity', () => {
    const apart = joined(ball(5), translated(flipped(ball(2)), [20, 0, 0]));
    expect(nest(apart)).toMatchObject({ inverted: [1], insideOut: false });
    const inCavity = joined(ball(10), flipped(ball(8)), flipped(ball(5)));
    expect(nest(inCavity)).toMatchObject({ inverted: [2], insideOut: false });
    const turned = flipped(joined(ball(10), flipped(ball(8))));
    expect(nest(turned)).toMatchObject({ inverted: [0, 1], insideOut: true, doubled: [] });
  });

  it('does not take touching or neighboring parts for nested ones', () => {
    for (const mesh of [
      cubesSharingEdge(),
      cubesSharingVertex(),
      joined(box(2, 2, 2), box(1, 1, 1, [2, 0, 0])),
    ]) {
      expect(nest(mesh)).toMatchObject({ parent: [-1, -1], inverted: [], doubled: [] });
    }
    // A ball in the hole of a torus lies in its box, not in it.
    expect(nest(joined(torus(10, 3, 12, 12), ball(2)))).toMatchObject({ parent: [-1, -1] });
  });

  it('is right straight above edges and corners', () => {
    // Every sample of the inner box is straight below edges of the outer one's top.
    const outer = box(6, 6, 6, [-3, -3, -3]);
    expect(nest(joined(outer, flipped(box(2, 2, 2, [-1, -1, -1]))))).toMatchObject({
      parent: [-1, 0],
      inverted: [],
    });
    const needle = prism(6, 1e-3, 1);
    expect(nest(joined(prism(6, 3, 3), flipped(translated(needle, [0, 0, 1])))).parent).toEqual([-1, 0]);
  });

  it('holds under any rotation and order', () => {
    const mesh = joined(
      box(9, 9, 9, [-4.5, -4.5, -4.5]),
      flipped(ball(4)),
      ball(3),
      translated(ball(2), [0, 0, 20]),
    );
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    const turn = fc.tuple(part, part, part, part).filter(q => Math.hypot(...q) > 0.1);
    fc.assert(
      fc.property(turn, fc.integer(), (q, seed) => {
        const { parent, sign, inverted, doubled } = nest(
          shuffled(moved(mesh, rotation(...q)), randomFrom(seed)),
        );
        expect(parent.filter(p => p < 0)).toHaveLength(2);
        expect(sign.reduce((a, b) => a + b)).toBe(2);
        expect([...inverted, ...doubled]).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });

  it('copes with thousands of shells', () => {
    const spots = Array.from({ length: 3100 }, (_, i) => box(0.5, 0.5, 0.5, [i % 60, Math.floor(i / 60), 0]));
    const { inverted, parent } = nest(joined(box(70, 70, 4, [-2, -2, -2]), ...spots.map(flipped)));
    expect(inverted).toEqual([]);
    expect(parent.every((p, s) => p === (s === 0 ? -1 : 0))).toBe(true);
  });
});

describe('bodies', () => {
  it('keeps cavities with their outer shell and solids apart', () => {
    const mesh = joined(ball(10), box(1, 1, 1, [20, 0, 0]), flipped(ball(8)), ball(5));
    const found = bodies(mesh);
    expect(found.map(faces => faces.length)).toEqual([160, 12, 80]);
    const hollow = massProperties(subMesh(mesh, found[0])).volume;
    expect(hollow).toBeCloseTo(massProperties(ball(10)).volume - massProperties(ball(8)).volume, 9);
    expect(subMesh(mesh, found[1]).positions).toHaveLength(24);
  });

  it('two cubes that share an edge are two bodies, stacked ones that keep the common face are one', () => {
    expect(bodies(cubesSharingEdge())).toHaveLength(2);
    const stacked = bodies(cubesSharingFace());
    expect(stacked).toHaveLength(1);
    expect(massProperties(subMesh(cubesSharingFace(), stacked[0])).volume).toBeCloseTo(2, 12);
  });

  it('splits an inside-out file as it would the right way out', () => {
    expect(bodies(flipped(joined(ball(10), flipped(ball(8)), ball(5))))).toHaveLength(2);
  });

  it('gives nothing for nothing', () => {
    expect(bodies({ positions: new Float32Array(0), triangles: new Uint32Array(0) })).toEqual([]);
  });
});

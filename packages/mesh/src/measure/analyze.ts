import { boundsOf, center, diagonal, usedVertices } from '../mass/bounds.ts';
import { faceSums, type FaceSums } from '../mass/face-sums.ts';
import { loneShellTable, shellTable, type ShellTable } from '../topology/shell-table.ts';
import { nestShells, type Nesting } from '../topology/nesting.ts';
import { topology, type Topology } from '../topology/topology.ts';
import { NOTHING } from '../mass/mass-properties.ts';
import type { Bounds, Mesh } from '../types.ts';

/** What the figures of a mesh are made from: computed once, read many times. */
export interface Analysis {
  readonly mesh: Mesh;
  /** Vertices that faces use. */
  readonly vertices: number;
  readonly box: Bounds | null;
  readonly diagonal: number;
  readonly sums: FaceSums;
  readonly topology: Topology;
  readonly table: ShellTable;
  readonly nesting: Nesting;
}

export function analyze(mesh: Mesh): Analysis {
  const found = topology(mesh);
  const { vertices, box } = extent(mesh, found.vertices);
  const about = box === null ? ([0, 0, 0] as const) : center(box);
  const sums = faceSums(mesh, about);
  const table =
    found.shells === 1 && box !== null
      ? loneShellTable(mesh, found, { volume: sums.volume, area: sums.area, box })
      : shellTable(mesh, found, about);
  return {
    mesh,
    vertices,
    box,
    diagonal: box === null ? 0 : diagonal(box),
    sums,
    topology: found,
    table,
    nesting: direct(nestShells(mesh, table, found.label), found, sums),
  };
}

/** Vertices that faces use, and the box around them; `known` is the least number that is sure to be used. */
function extent(mesh: Mesh, known: number): { vertices: number; box: Bounds | null } {
  const { positions } = mesh;
  if (known > 0 && known === positions.length / 3) return { vertices: known, box: boundsOf(positions, null) };
  const used = usedVertices(mesh);
  let vertices = 0;
  for (let v = 0; v < used.length; v++) vertices += used[v];
  return { vertices, box: vertices === 0 ? null : boundsOf(positions, used) };
}

/**
 * Shells that are open one by one can still close together, across edges of three or more faces; none of them has a
 * direction then, but their volume has.
 */
function direct(nesting: Nesting, found: Topology, sums: FaceSums): Nesting {
  const undirected = found.pairs.closedCycle && nesting.sign.every(sign => sign === 0);
  if (!undirected || sums.volume >= -NOTHING * sums.turnover) return nesting;
  return { ...nesting, insideOut: true, inverted: [...nesting.sign.keys()] };
}

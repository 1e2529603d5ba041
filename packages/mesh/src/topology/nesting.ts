import type { Mesh } from '../types.ts';
import { treeOfBoxes } from '../tree/box-tree.ts';
import { forEachInBox } from '../tree/overlap.ts';
import { columnGrid } from './column-grid.ts';
import type { ShellTable } from './shell-table.ts';

/** Which closed shells lie inside which, and what that says about their direction. */
export interface Nesting {
  /** Innermost closed shell around each shell, −1 when there is none; open shells have none. */
  readonly parent: Int32Array;
  /** +1 outward, −1 inward, 0 open or without volume. */
  readonly sign: Int8Array;
  /** Closed shells that face the wrong way: inward, and not a cavity directly inside an outward shell. */
  readonly inverted: readonly number[];
  /** Outward shells directly inside an outward shell: their material is counted twice. */
  readonly doubled: readonly number[];
  /** Turning every face over would put all shells right: the whole mesh is inside out. */
  readonly insideOut: boolean;
}

/** A closed shell below this share of area · diagonal has no volume but rounding. */
const NO_VOLUME = 1e-12;

/** Finds the nesting of all closed shells by counting, exactly, the faces above points of each. */
export function nestShells(mesh: Mesh, table: ShellTable, label: Int32Array): Nesting {
  const sign = Int8Array.from({ length: table.count }, (_, s) => signOf(table, s));
  const parent = parents(table, containers(mesh, table, label));
  const wrong = (direction: number) => {
    const list: number[] = [];
    for (let s = 0; s < table.count; s++) {
      if (sign[s] * direction >= 0) continue;
      if (parent[s] < 0 || sign[parent[s]] * direction <= 0) list.push(s);
    }
    return list;
  };
  const asGiven = wrong(1);
  const insideOut = asGiven.length > 0 && wrong(-1).length === 0;
  const inverted = insideOut ? [...sign.keys()].filter(s => sign[s] !== 0) : asGiven;
  const outward = insideOut ? -1 : 1;
  const doubled = [...sign.keys()].filter(
    s => sign[s] === outward && parent[s] >= 0 && sign[parent[s]] === outward,
  );
  return { parent, sign, inverted, doubled, insideOut };
}

function signOf(table: ShellTable, s: number): number {
  if (table.closed[s] === 0) return 0;
  const b = table.box.subarray(6 * s, 6 * s + 6);
  const diagonal = Math.hypot(b[3] - b[0], b[4] - b[1], b[5] - b[2]);
  if (Math.abs(table.volume[s]) <= NO_VOLUME * table.area[s] * diagonal) return 0;
  return table.volume[s] > 0 ? 1 : -1;
}

/** For each shell, the closed shells around it; undefined when there is none. */
function containers(mesh: Mesh, table: ShellTable, label: Int32Array): (number[] | undefined)[] {
  const around = new Array<number[] | undefined>(table.count);
  const closed: number[] = [];
  for (let s = 0; s < table.count; s++) if (table.closed[s] === 1) closed.push(s);
  const boxes = treeOfBoxes(Float64Array.from(closed.flatMap(s => [...boxOf(table, s)])));
  const aroundBoxOf = (s: number): number[] => {
    const list: number[] = [];
    const [x, y, z] = boxOf(table, s);
    forEachInBox(boxes, [x, y, z], [x, y, z], i => {
      if (closed[i] !== s && boxInside(table, s, closed[i])) list.push(closed[i]);
    });
    return list;
  };
  const inner = new Map<number, number[]>();
  const outer = new Set<number>();
  for (const s of closed) {
    const list = aroundBoxOf(s);
    if (list.length > 0) inner.set(s, list);
    for (const t of list) outer.add(t);
  }
  if (inner.size === 0) return around;
  const grid = columnGrid(mesh, facesOf(table, [...outer]));
  for (const [s, shells] of inner) {
    const few = shells.reduce((sum, t) => sum + table.starts[t + 1] - table.starts[t], 0);
    let listed: number[] | undefined;
    // Per shell, samples found inside less samples found outside; a sample on the shell itself has no say.
    const votes = new Map<number, number>();
    const faces = samples(table, s);
    for (const face of faces) {
      const winding = new Map<number, number>();
      const touched = new Set<number>();
      const [x, y, z] = middle(mesh, face);
      const add = (f: number, way: number) => winding.set(label[f], (winding.get(label[f]) ?? 0) + way);
      // Where fewer faces belong to the shells in question than lie in the column, only those are looked at.
      if (few < grid.filed(x, y)) listed ??= facesOf(table, shells);
      grid.above(x, y, z, add, f => touched.add(label[f]), few < grid.filed(x, y) ? listed : undefined);
      for (const [shell, count] of winding) {
        if (count !== 0 && !touched.has(shell)) votes.set(shell, (votes.get(shell) ?? -faces.length) + 2);
      }
      for (const shell of touched) votes.set(shell, (votes.get(shell) ?? -faces.length) + 1);
    }
    const inside = [...votes]
      .filter(([shell, vote]) => shell !== s && vote > 0 && boxInside(table, s, shell))
      .map(([shell]) => shell);
    if (inside.length > 0) around[s] = inside;
  }
  return around;
}

function boxOf(table: ShellTable, s: number): Float64Array {
  return Float64Array.from(table.box.subarray(6 * s, 6 * s + 6));
}

function facesOf(table: ShellTable, shells: readonly number[]): number[] {
  return shells.flatMap(s => [...table.faceList.subarray(table.starts[s], table.starts[s + 1])]);
}

function boxInside(table: ShellTable, inner: number, outer: number): boolean {
  const { box } = table;
  for (let k = 0; k < 3; k++) {
    if (box[6 * inner + k] < box[6 * outer + k] || box[6 * inner + 3 + k] > box[6 * outer + 3 + k])
      return false;
  }
  return true;
}

/** Three faces of a shell, so that one that touches another shell does not decide alone. */
function samples(table: ShellTable, s: number): number[] {
  const [from, to] = [table.starts[s], table.starts[s + 1]];
  return [...new Set([from, (from + to) >>> 1, to - 1])].map(k => table.faceList[k]);
}

function middle(mesh: Mesh, face: number): [number, number, number] {
  const { positions, triangles } = mesh;
  const [a, b, c] = [0, 1, 2].map(k => 3 * triangles[3 * face + k]);
  return [0, 1, 2].map(k => (positions[a + k] + positions[b + k] + positions[c + k]) / 3) as [
    number,
    number,
    number,
  ];
}

function parents(table: ShellTable, around: readonly (number[] | undefined)[]): Int32Array {
  const parent = new Int32Array(table.count).fill(-1);
  around.forEach((list, s) => {
    // The innermost has the most shells around itself; of equals, the smaller.
    for (const t of list ?? []) {
      const best = parent[s];
      if (best < 0) {
        parent[s] = t;
        continue;
      }
      const deeper = (around[t]?.length ?? 0) - (around[best]?.length ?? 0);
      if (deeper > 0 || (deeper === 0 && Math.abs(table.volume[t]) < Math.abs(table.volume[best])))
        parent[s] = t;
    }
  });
  return parent;
}

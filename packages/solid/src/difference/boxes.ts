import type { Bounds, Mesh } from '@kinprint/mesh';
import { defaults } from '../defaults.ts';
import { diagonalOf } from '../extent.ts';

/** A mesh with its changed faces marked. */
export interface Marked {
  readonly mesh: Mesh;
  /** Per face: 1 when changed. */
  readonly changed: Uint8Array;
}

/** A neighborhood of changed faces. */
export interface ChangedBox {
  /** Holds every changed face that it stands for, whole. */
  readonly bounds: Bounds;
  /** A cut may run anywhere between one and two margins outside the bounds; other boxes stay clear of that. */
  readonly margin: number;
}

/**
 * Gathers the changed faces of the meshes in a few boxes (`most` at most) that stay clear of each other, two margins included.
 * Changed faces that touch always share a box. Sorted by place, so that the order of the meshes does not matter.
 */
export function changedBoxes(
  marked: readonly Marked[],
  diagonal: number,
  tolerance_mm: number,
  most: number = defaults.maxBoxes,
): readonly ChangedBox[] {
  const least = Math.max(4 * tolerance_mm, defaults.leastBoxMargin * diagonal);
  const all = boundsOfChanged(marked);
  if (all === null) return [];
  let boxes: readonly Bounds[] = [];
  for (let cells = 32; cells >= 2; cells /= 2) {
    boxes = clusters(marked, all, cells, least);
    if (boxes.length <= 64) break;
  }
  const separate = mergeToFew(
    boxes.map(bounds => withMargin(bounds, least)),
    least,
    most,
  );
  return [...separate].sort((p, q) => compare(p.bounds, q.bounds));
}

function withMargin(bounds: Bounds, least: number): ChangedBox {
  return { bounds, margin: Math.max(least, defaults.boxMargin * diagonalOf(bounds)) };
}

function compare(p: Bounds, q: Bounds): number {
  return p.min[0] - q.min[0] || p.min[1] - q.min[1] || p.min[2] - q.min[2];
}

type Box = [number, number, number, number, number, number];

function faceBox({ positions, triangles }: Mesh, f: number, box: Box): void {
  const a = 3 * triangles[3 * f];
  const b = 3 * triangles[3 * f + 1];
  const c = 3 * triangles[3 * f + 2];
  for (let k = 0; k < 3; k++) {
    box[k] = Math.min(positions[a + k], positions[b + k], positions[c + k]);
    box[k + 3] = Math.max(positions[a + k], positions[b + k], positions[c + k]);
  }
}

function boundsOfChanged(marked: readonly Marked[]): Bounds | null {
  const total: Box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  const box: Box = [0, 0, 0, 0, 0, 0];
  for (const { mesh, changed } of marked) {
    for (let f = 0; f < changed.length; f++) {
      if (changed[f] === 0) continue;
      faceBox(mesh, f, box);
      grow(total, box);
    }
  }
  return total[0] > total[3] ? null : boundsOf(total);
}

function grow(total: Box, box: Box): void {
  for (let k = 0; k < 3; k++) {
    if (box[k] < total[k]) total[k] = box[k];
    if (box[k + 3] > total[k + 3]) total[k + 3] = box[k + 3];
  }
}

function boundsOf([x0, y0, z0, x1, y1, z1]: Box): Bounds {
  return { min: [x0, y0, z0], max: [x1, y1, z1] };
}

/** Unites the cells that each face's box (with the margin) overlaps; one box per united set. */
function clusters(marked: readonly Marked[], all: Bounds, cells: number, margin: number): readonly Bounds[] {
  const parent = new Int32Array(cells ** 3).map((_, i) => i);
  const step = [0, 1, 2].map(k => (all.max[k] - all.min[k]) / cells || 1);
  const box: Box = [0, 0, 0, 0, 0, 0];
  const low = [0, 0, 0];
  const high = [0, 0, 0];
  const cellsOf = (mesh: Mesh, f: number): void => {
    faceBox(mesh, f, box);
    for (let k = 0; k < 3; k++) {
      low[k] = clamp(Math.floor((box[k] - margin - all.min[k]) / step[k]), cells);
      high[k] = clamp(Math.floor((box[k + 3] + margin - all.min[k]) / step[k]), cells);
    }
  };
  for (const { mesh, changed } of marked) {
    for (let f = 0; f < changed.length; f++) {
      if (changed[f] === 0) continue;
      cellsOf(mesh, f);
      // A face across most of the space: no use looking for separate neighborhoods.
      if ((high[0] - low[0] + 1) * (high[1] - low[1] + 1) * (high[2] - low[2] + 1) > cells ** 3 / 2)
        return [all];
      const first = (low[0] * cells + low[1]) * cells + low[2];
      for (let x = low[0]; x <= high[0]; x++) {
        for (let y = low[1]; y <= high[1]; y++) {
          for (let z = low[2]; z <= high[2]; z++) unite(parent, first, (x * cells + y) * cells + z);
        }
      }
    }
  }
  const boxes = new Map<number, Box>();
  for (const { mesh, changed } of marked) {
    for (let f = 0; f < changed.length; f++) {
      if (changed[f] === 0) continue;
      cellsOf(mesh, f);
      const root = find(parent, (low[0] * cells + low[1]) * cells + low[2]);
      const known = boxes.get(root);
      if (known === undefined) boxes.set(root, [...box]);
      else grow(known, box);
    }
  }
  return [...boxes.values()].map(boundsOf).sort(compare);
}

function clamp(cell: number, cells: number): number {
  return Math.max(0, Math.min(cells - 1, cell));
}

function find(parent: Int32Array, item: number): number {
  let at = item;
  while (parent[at] !== at) {
    parent[at] = parent[parent[at]];
    at = parent[at];
  }
  return at;
}

function unite(parent: Int32Array, a: number, b: number): void {
  const p = find(parent, a);
  const q = find(parent, b);
  if (p < q) parent[q] = p;
  else parent[p] = q;
}

/** Merges boxes that come too close, then those whose union wastes least, until few are left. */
function mergeToFew(boxes: readonly ChangedBox[], least: number, most: number): readonly ChangedBox[] {
  let left = mergeClose(boxes, least);
  while (left.length > most) {
    let best: readonly [number, number] = [0, 1];
    let bestWaste = Infinity;
    for (let i = 0; i < left.length; i++) {
      for (let j = i + 1; j < left.length; j++) {
        const waste = volume(merged(left[i], left[j], least)) - volume(left[i]) - volume(left[j]);
        if (waste < bestWaste) {
          bestWaste = waste;
          best = [i, j];
        }
      }
    }
    const rest = left.filter((_, k) => k !== best[0] && k !== best[1]);
    left = mergeClose([...rest, merged(left[best[0]], left[best[1]], least)], least);
  }
  return left;
}

function mergeClose(boxes: readonly ChangedBox[], least: number): ChangedBox[] {
  const left: ChangedBox[] = [];
  for (const next of boxes) {
    let box = next;
    for (
      let i = left.findIndex(other => close(box, other));
      i >= 0;
      i = left.findIndex(other => close(box, other))
    ) {
      box = merged(box, left[i], least);
      left.splice(i, 1);
    }
    left.push(box);
  }
  return left;
}

function close(p: ChangedBox, q: ChangedBox): boolean {
  const reach = 2 * (p.margin + q.margin);
  for (let k = 0; k < 3; k++) {
    if (p.bounds.min[k] - q.bounds.max[k] > reach || q.bounds.min[k] - p.bounds.max[k] > reach) return false;
  }
  return true;
}

function merged({ bounds: p }: ChangedBox, { bounds: q }: ChangedBox, least: number): ChangedBox {
  const total: Box = [...p.min, ...p.max];
  grow(total, [...q.min, ...q.max]);
  return withMargin(boundsOf(total), least);
}

function volume({ bounds: { min, max }, margin }: ChangedBox): number {
  return (max[0] - min[0] + 2 * margin) * (max[1] - min[1] + 2 * margin) * (max[2] - min[2] + 2 * margin);
}

import type { Bounds, Mesh, Note } from '@kinprint/mesh';
import { measureShells, type ShellMeasure } from './shell-measure.ts';
import { findShells, type Shells } from './shells.ts';
import { windingNumber } from './winding.ts';

/**
 * A closed surface sorted into groups, each one outer shell with its cavities, every outer shell the right way round.
 * Groups may overlap: the material is their union.
 */
export interface Body {
  readonly mesh: Mesh;
  /** Per face its group; null when there is one group, or when no two groups can overlap. */
  readonly groupOf: Uint32Array | null;
  readonly groupCount: number;
  /** Sum over the groups; the volume of the material itself when `groupOf` is null. */
  readonly volume_mm3: number;
  readonly area_mm2: number;
  readonly notes: readonly Note[];
}

/** Faces times inner shells beyond which cavities are placed by their boxes alone. */
const windingBudget = 2e8;

/**
 * Sorts a mesh into a body; null when its surface is open or its directions do not cancel, so that it encloses
 * nothing. A surface that is inside out as a whole, or in a shell that lies in no other, is turned; a note says so.
 */
export function bodyOf(input: Mesh): Body | null {
  const mesh = withoutCollapsedFaces(input);
  const shells = findShells(mesh);
  if (!shells.closed) return null;
  const measures = measureShells(mesh, shells);
  const total = measures.reduce((sum, shell) => sum + shell.volume_mm3, 0);
  const area = measures.reduce((sum, shell) => sum + shell.area_mm2, 0);
  if (total < 0) {
    const turned = bodyOf({ positions: mesh.positions, triangles: turnedFaces(mesh.triangles, null, null) });
    return turned && { ...turned, notes: [insideOut, ...turned.notes] };
  }
  if (shells.count <= 1) {
    return { mesh, groupOf: null, groupCount: shells.count, volume_mm3: total, area_mm2: area, notes: [] };
  }
  return sortShells(mesh, shells, measures, area);
}

const insideOut: Note = {
  code: 'inside-out',
  text: 'The surface was inside out as a whole; it was turned for the solid calculations.',
};

function sortShells(mesh: Mesh, shells: Shells, measures: readonly ShellMeasure[], area: number): Body {
  const owners = cavityOwners(mesh, shells, measures);
  const notes: Note[] = [];
  const turned = new Uint8Array(shells.count);
  measures.forEach((shell, s) => {
    if (shell.volume_mm3 < 0 && owners[s] === s) turned[s] = 1;
  });
  const turnedCount = turned.reduce((sum, flag) => sum + flag, 0);
  if (turnedCount > 0) {
    const text = `${turnedCount} of ${shells.count} shells lay inside out in no other shell; turned for the solid calculations.`;
    notes.push({ code: 'shell-inside-out', text });
  }
  const triangles = turnedCount > 0 ? turnedFaces(mesh.triangles, shells.shellOf, turned) : mesh.triangles;
  const roots = measures.map((_, s) => s).filter(s => owners[s] === s);
  const volume = measures.reduce((sum, shell, s) => sum + (turned[s] ? -1 : 1) * shell.volume_mm3, 0);
  const body = { mesh: { positions: mesh.positions, triangles }, volume_mm3: volume, area_mm2: area, notes };
  if (!anyOverlap(roots.map(s => measures[s].bounds))) {
    return { ...body, groupOf: null, groupCount: roots.length };
  }
  const groupOfShell = new Uint32Array(shells.count);
  roots.forEach((s, group) => (groupOfShell[s] = group));
  owners.forEach((owner, s) => (groupOfShell[s] = groupOfShell[owner]));
  return { ...body, groupOf: shells.shellOf.map(s => groupOfShell[s]), groupCount: roots.length };
}

/** Per shell: the outer shell it belongs to (itself when it is one): the smallest that winds around it. */
export function cavityOwners(
  mesh: Mesh,
  shells: Shells,
  measures: readonly ShellMeasure[],
): readonly number[] {
  const outer = measures
    .map((_, s) => s)
    .filter(s => measures[s].volume_mm3 > 0)
    .sort((p, q) => measures[p].volume_mm3 - measures[q].volume_mm3);
  const inner = measures.filter(shell => shell.volume_mm3 < 0).length;
  const exact = inner * (mesh.triangles.length / 3) <= windingBudget;
  return measures.map((shell, s) => {
    if (shell.volume_mm3 >= 0) return s;
    const v = 3 * mesh.triangles[3 * shell.face];
    const { positions } = mesh;
    const point = [positions[v], positions[v + 1], positions[v + 2]] as const;
    const owner = outer.find(
      o =>
        contains(measures[o].bounds, shell.bounds) &&
        (!exact || windingNumber(mesh, point, shells.shellOf, o) > 0.25),
    );
    return owner ?? s;
  });
}

function contains(outer: Bounds, inner: Bounds): boolean {
  for (let k = 0; k < 3; k++) {
    if (inner.min[k] < outer.min[k] || inner.max[k] > outer.max[k]) return false;
  }
  return true;
}

/** Whether any two boxes overlap in more than a common side. Sweeps along x. */
function anyOverlap(boxes: readonly Bounds[]): boolean {
  const sorted = [...boxes].sort((p, q) => p.min[0] - q.min[0]);
  let active: Bounds[] = [];
  for (const box of sorted) {
    active = active.filter(other => other.max[0] > box.min[0]);
    for (const other of active) {
      const apart =
        other.max[1] <= box.min[1] ||
        box.max[1] <= other.min[1] ||
        other.max[2] <= box.min[2] ||
        box.max[2] <= other.min[2];
      if (!apart) return true;
    }
    active.push(box);
  }
  return false;
}

/** Reverses all faces, or those of the marked shells. */
function turnedFaces(
  triangles: Uint32Array,
  shellOf: Uint32Array | null,
  marked: Uint8Array | null,
): Uint32Array {
  const turned = triangles.slice();
  for (let i = 0, f = 0; i < turned.length; i += 3, f++) {
    if (shellOf !== null && marked !== null && !marked[shellOf[f]]) continue;
    const b = turned[i + 1];
    turned[i + 1] = turned[i + 2];
    turned[i + 2] = b;
  }
  return turned;
}

/** A face with a repeated vertex has no area and cancels itself; the kernel does not want it. */
function withoutCollapsedFaces(mesh: Mesh): Mesh {
  const { triangles } = mesh;
  let kept = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    if (!collapsed(triangles, i)) kept += 3;
  }
  if (kept === triangles.length) return mesh;
  const left = new Uint32Array(kept);
  for (let i = 0, to = 0; i < triangles.length; i += 3) {
    if (collapsed(triangles, i)) continue;
    left.set(triangles.subarray(i, i + 3), to);
    to += 3;
  }
  return { positions: mesh.positions, triangles: left };
}

function collapsed(triangles: Uint32Array, i: number): boolean {
  const a = triangles[i];
  const b = triangles[i + 1];
  const c = triangles[i + 2];
  return a === b || b === c || c === a;
}

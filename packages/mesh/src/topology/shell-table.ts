import type { Bounds, Mesh, Vec3 } from '../types.ts';
import { faceOf, nextEdge } from './corners.ts';
import type { Topology } from './topology.ts';

/** The shells of a mesh, one entry per shell in every array. */
export interface ShellTable {
  readonly count: number;
  /** N+1: the faces of shell s are `faceList[starts[s] … starts[s+1])`, its lowest face first. */
  readonly starts: Int32Array;
  readonly faceList: Int32Array;
  /** Signed, mm³; meaningful for closed shells. */
  readonly volume: Float64Array;
  readonly area: Float64Array;
  /** 6·N: lowest x, y, z, highest x, y, z. */
  readonly box: Float64Array;
  /** 1 when the shell's faces cancel on every edge. */
  readonly closed: Uint8Array;
}

export function shellBounds(table: ShellTable, shell: number): Bounds {
  const [x0, y0, z0, x1, y1, z1] = table.box.subarray(6 * shell, 6 * shell + 6);
  return { min: [x0, y0, z0], max: [x1, y1, z1] };
}

/** Measures every shell. Volumes are summed about `about`, best the middle of the mesh. */
export function shellTable(mesh: Mesh, topology: Topology, about: Vec3): ShellTable {
  const { positions, triangles } = mesh;
  const { label, shells: count, starts, faceList, pairs } = topology;
  const volume = new Float64Array(count);
  const area = new Float64Array(count);
  const box = new Float64Array(6 * count);
  for (let s = 0; s < count; s++) box.fill(Infinity, 6 * s, 6 * s + 3).fill(-Infinity, 6 * s + 3, 6 * s + 6);
  for (let s = 0; s < count; s++) {
    const at = 6 * s;
    let det = 0;
    let doubled = 0;
    for (let k = starts[s]; k < starts[s + 1]; k++) {
      const base = 3 * faceList[k];
      const a = 3 * triangles[base];
      const b = 3 * triangles[base + 1];
      const c = 3 * triangles[base + 2];
      for (let axis = 0; axis < 3; axis++) {
        const [p, q, r] = [positions[a + axis], positions[b + axis], positions[c + axis]];
        const low = p < q ? (p < r ? p : r) : q < r ? q : r;
        const high = p > q ? (p > r ? p : r) : q > r ? q : r;
        if (low < box[at + axis]) box[at + axis] = low;
        if (high > box[at + 3 + axis]) box[at + 3 + axis] = high;
      }
      const ux = positions[b] - positions[a];
      const uy = positions[b + 1] - positions[a + 1];
      const uz = positions[b + 2] - positions[a + 2];
      const vx = positions[c] - positions[a];
      const vy = positions[c + 1] - positions[a + 1];
      const vz = positions[c + 2] - positions[a + 2];
      const nx = uy * vz - uz * vy;
      const ny = uz * vx - ux * vz;
      const nz = ux * vy - uy * vx;
      doubled += Math.sqrt(nx * nx + ny * ny + nz * nz);
      det +=
        (positions[a] - about[0]) * nx +
        (positions[a + 1] - about[1]) * ny +
        (positions[a + 2] - about[2]) * nz;
    }
    volume[s] = det / 6;
    area[s] = doubled / 2;
  }
  const closed = closedShells(triangles, label, count, pairs);
  return { count, starts, faceList, volume, area, box, closed };
}

/** The table of a mesh of one shell whose volume, area and box are known already. */
export function loneShellTable(
  mesh: Mesh,
  topology: Topology,
  whole: { volume: number; area: number; box: Bounds },
): ShellTable {
  const { label, starts, faceList, pairs } = topology;
  return {
    count: 1,
    starts,
    faceList,
    volume: Float64Array.of(whole.volume),
    area: Float64Array.of(whole.area),
    box: Float64Array.of(...whole.box.min, ...whole.box.max),
    closed: closedShells(mesh.triangles, label, 1, pairs),
  };
}

function closedShells(
  triangles: Uint32Array,
  label: Int32Array,
  count: number,
  pairs: Topology['pairs'],
): Uint8Array {
  const closed = new Uint8Array(count).fill(1);
  for (const h of pairs.boundary) closed[label[faceOf(h)]] = 0;
  for (const h of pairs.flipped) closed[label[faceOf(h)]] = 0;
  const net = new Map<number, number>();
  for (let i = 0; i + 1 < pairs.crowdStarts.length; i++) {
    net.clear();
    for (let k = pairs.crowdStarts[i]; k < pairs.crowdStarts[i + 1]; k++) {
      const h = pairs.crowded[k];
      const shell = label[faceOf(h)];
      const way = triangles[h] < triangles[nextEdge(h)] ? 1 : -1;
      net.set(shell, (net.get(shell) ?? 0) + way);
    }
    for (const [shell, sum] of net) if (sum !== 0) closed[shell] = 0;
  }
  return closed;
}

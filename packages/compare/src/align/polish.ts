import type { Vec3 } from '@kinprint/mesh';
import { symmetricEigen } from './eigen.ts';
import type { Pair } from './pair.ts';
import {
  applyPlacement,
  composePlacements,
  determinantOf,
  isFinitePlacement,
  placementThrough,
  type Placement,
} from './placement.ts';
import { rotationOf } from './rotation.ts';
import { buildVertexGrid, nearestVertex, type VertexGrid } from './vertex-grid.ts';

/** Vertices of BEFORE that take part, and how many must find their like: as a share and as a number. */
const VERTICES = 20_000;
const LEAST_SHARE = 0.02;
const LEAST = 8;

/**
 * Fits a placement to the vertices that both meshes have, point to point. Where the triangulation was kept, this
 * is good to a fraction of the rounding of the coordinates; where it was not, the placement stays as it is.
 */
export function polishByVertices(pair: Pair, m: Placement): Placement {
  const { diagonal, mesh } = pair.after.surface;
  const reaches = [Math.min(pair.tolerance, 1e-4 * diagonal), pair.floor].filter(
    (r, k, all) => k === 0 || r < all[0],
  );
  let best = m;
  for (const reach of reaches) {
    const grid = reach === pair.floor ? pair.floorGrid() : buildVertexGrid(mesh.positions, reach);
    for (let round = 0; round < 2; round += 1) {
      const step = vertexStep(pair, grid, best);
      if (step === null) break;
      const next = composePlacements(step, best);
      if (!isFinitePlacement(next)) break;
      best = next;
    }
  }
  return best;
}

/** One step of least squares over like vertices: turn, shift, and growth if the placement scales. */
function vertexStep(pair: Pair, grid: VertexGrid, m: Placement): Placement | null {
  const p = pair.before.surface.mesh.positions;
  const q = pair.after.surface.mesh.positions;
  const count = p.length / 3;
  const step = Math.max(1, Math.floor(count / VERTICES));
  const c = applyPlacement(m, pair.before.surface.center);
  const size = 0.5 * pair.after.surface.diagonal;
  const n = Math.abs(Math.abs(determinantOf(m)) - 1) > 1e-7 ? 7 : 6;
  const ata = new Float64Array(n * n);
  const atr = new Float64Array(n);
  let pairs = 0;
  let seen = 0;
  for (let v = 0; v < count; v += step) {
    seen += 1;
    const [x, y, z] = applyPlacement(m, [p[3 * v], p[3 * v + 1], p[3 * v + 2]]);
    const w = nearestVertex(grid, x, y, z);
    if (w < 0) continue;
    pairs += 1;
    const px = (x - c[0]) / size;
    const py = (y - c[1]) / size;
    const pz = (z - c[2]) / size;
    addRow(ata, atr, n, [0, pz, -py, 1, 0, 0, px], q[3 * w] - x);
    addRow(ata, atr, n, [-pz, 0, px, 0, 1, 0, py], q[3 * w + 1] - y);
    addRow(ata, atr, n, [py, -px, 0, 0, 0, 1, pz], q[3 * w + 2] - z);
  }
  if (pairs < LEAST || pairs < LEAST_SHARE * seen) return null;
  const { values, vectors } = symmetricEigen(ata, n);
  // Vertices on one line leave a turn open; then nothing is gained here.
  if (!(values[n - 1] > 1e-6 * values[0])) return null;
  const d = new Float64Array(n);
  vectors.forEach((axis, k) => {
    const s = axis.reduce((sum, a, i) => sum + a * atr[i], 0) / values[k];
    axis.forEach((a, i) => (d[i] += a * s));
  });
  const turn: Vec3 = [d[0] / size, d[1] / size, d[2] / size];
  const grow = 1 + (n === 7 ? d[6] / size : 0);
  return placementThrough(
    rotationOf(turn).map(value => value * grow),
    c,
    [c[0] + d[3], c[1] + d[4], c[2] + d[5]],
  );
}

function addRow(
  ata: Float64Array,
  atr: Float64Array,
  n: number,
  row: readonly number[],
  residual: number,
): void {
  for (let i = 0; i < n; i += 1) {
    if (row[i] === 0) continue;
    atr[i] += row[i] * residual;
    for (let j = 0; j < n; j += 1) ata[i * n + j] += row[i] * row[j];
  }
}

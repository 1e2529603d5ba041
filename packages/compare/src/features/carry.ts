import type { Feature, Vec3 } from '@kinprint/mesh';
import type { Alignment } from '../comparison.ts';

/**
 * A feature of BEFORE, carried into the frame of AFTER. Lengths and diameters grow with a uniform scale. Under a
 * per-axis scale a round feature is round no more unless it stands along the axis that differs: then null.
 */
export function carryFeature(feature: Feature, alignment: Alignment): Feature | null {
  const at_mm = mapPoint(alignment.matrix, feature.at_mm);
  const [sx, sy, sz] = alignment.scale;
  const uniform = Math.abs(sx - sy) <= 1e-9 * sx && Math.abs(sx - sz) <= 1e-9 * sx;
  if (feature.kind === 'plane') {
    const axis = mapNormal(alignment.matrix, feature.axis);
    const area = feature.area_mm2 * planeAreaFactor(feature.axis, alignment.scale);
    return { ...feature, axis, at_mm, area_mm2: area };
  }
  let across = sx;
  let along = sx;
  if (!uniform) {
    const k = feature.axis.findIndex(c => Math.abs(c) > 1 - 1e-9);
    const others = [sx, sy, sz].filter((_, j) => j !== k);
    if (k < 0 || Math.abs((others[0] ?? 0) - (others[1] ?? 1)) > 1e-9 * sx) return null;
    across = others[0] ?? sx;
    along = [sx, sy, sz][k] ?? sx;
  }
  return {
    ...feature,
    axis: canonical(mapDirection(alignment.matrix, feature.axis)),
    at_mm,
    diameter_mm: feature.diameter_mm * across,
    inscribed_diameter_mm: feature.inscribed_diameter_mm * across,
    residual_mm: feature.residual_mm * across,
    length_mm: feature.length_mm * along,
  };
}

/** `matrix · (p, 1)`. */
export function mapPoint(m: Alignment['matrix'], p: Vec3): Vec3 {
  const row = (k: 0 | 1 | 2): number => m[k][0] * p[0] + m[k][1] * p[1] + m[k][2] * p[2] + m[k][3];
  return [row(0), row(1), row(2)];
}

function mapDirection(m: Alignment['matrix'], d: Vec3): Vec3 {
  const row = (k: 0 | 1 | 2): number => m[k][0] * d[0] + m[k][1] * d[1] + m[k][2] * d[2];
  return unit([row(0), row(1), row(2)]);
}

/** Normals map with the cofactor matrix; an outward normal stays outward under a reflection when its sign is undone. */
function mapNormal(m: Alignment['matrix'], n: Vec3): Vec3 {
  const [a, b, c] = m;
  const cof = (r: 0 | 1 | 2, s: 0 | 1 | 2): number => {
    const rows = [a, b, c];
    const r1 = rows[(r + 1) % 3] ?? a;
    const r2 = rows[(r + 2) % 3] ?? a;
    const s1 = ((s + 1) % 3) as 0 | 1 | 2;
    const s2 = ((s + 2) % 3) as 0 | 1 | 2;
    return r1[s1] * r2[s2] - r1[s2] * r2[s1];
  };
  const det = a[0] * cof(0, 0) + a[1] * cof(0, 1) + a[2] * cof(0, 2);
  const sign = det < 0 ? -1 : 1;
  const row = (r: 0 | 1 | 2): number => sign * (cof(r, 0) * n[0] + cof(r, 1) * n[1] + cof(r, 2) * n[2]);
  return unit([row(0), row(1), row(2)]);
}

/** A plane with unit normal n under diag(s): its area grows by |s_y s_z n_x, s_z s_x n_y, s_x s_y n_z|. */
function planeAreaFactor(n: Vec3, [sx, sy, sz]: Vec3): number {
  return Math.hypot(sy * sz * n[0], sz * sx * n[1], sx * sy * n[2]);
}

function unit(v: Vec3): Vec3 {
  const length = Math.hypot(...v) || 1;
  return [v[0] / length, v[1] / length, v[2] / length];
}

/** Axes have no sense of direction: the first component that is not nearly 0 is made positive. */
function canonical(v: Vec3): Vec3 {
  const first = v.find(c => Math.abs(c) > 1e-9) ?? 1;
  return first < 0 ? [-v[0], -v[1], -v[2]] : v;
}

import { faceAdjacency, type Vec3 } from '@kinprint/mesh';
import type { Surface } from './surface.ts';

/** A connected flat patch of a surface. */
export interface Facet {
  readonly faces: readonly number[];
  readonly normal: Vec3;
  readonly area: number;
}

/** Facets in a search, and flat patches below this share of the surface, which say little. */
const FACETS = 160;
const SMALLEST_SHARE = 2e-4;

/** In a mesh of more faces than this, one or two faces are a patch only when they are this much larger than the mean. */
const CROWD = 500;
const FEW_FACES = 3;

export interface Facets {
  readonly list: readonly Facet[];
  /** For every face the index of its facet, or −1. */
  readonly facetOf: Int32Array;
  readonly adjacency: Int32Array;
}

/**
 * Flat patches by region growing from the largest faces: a neighbor joins when its corners lie in the plane of the
 * first face. Largest first. The triangulation of a flat face does not matter, which is why the search goes by
 * patches when two exports were triangulated differently.
 */
export function findFacets(surface: Surface): Facets {
  const { mesh, faceArea, faceNormal, area, diagonal } = surface;
  const adjacency = faceAdjacency(mesh);
  const facetOf = new Int32Array(faceArea.length).fill(-1);
  const order: number[] = [];
  const least = Math.min(area / faceArea.length, SMALLEST_SHARE * area);
  for (let f = 0; f < faceArea.length; f += 1) if (faceArea[f] >= 0.5 * least) order.push(f);
  order.sort((f, g) => faceArea[g] - faceArea[f] || f - g);
  const off = Math.max(8 * surface.noise, 1e-5 * diagonal);
  const found: Facet[] = [];
  const seeds = order.slice(0, 40 * FACETS);
  for (const seed of seeds) {
    if (facetOf[seed] >= 0) continue;
    const faces = grow(surface, adjacency, facetOf, seed, found.length, off);
    let total = 0;
    for (const f of faces) total += faceArea[f];
    found.push({
      faces,
      area: total,
      normal: [faceNormal[3 * seed], faceNormal[3 * seed + 1], faceNormal[3 * seed + 2]],
    });
  }
  const crowd = faceArea.length > CROWD;
  const mean = area / faceArea.length;
  const kept = found
    .map((facet, k) => ({ facet, k }))
    .filter(({ facet }) => facet.area >= SMALLEST_SHARE * area)
    .filter(({ facet }) => facet.faces.length > 2 || !crowd || facet.area > FEW_FACES * mean)
    .sort((a, b) => b.facet.area - a.facet.area || a.k - b.k)
    .slice(0, FACETS);
  const renamed = new Int32Array(found.length).fill(-1);
  kept.forEach(({ k }, n) => (renamed[k] = n));
  for (let f = 0; f < facetOf.length; f += 1) if (facetOf[f] >= 0) facetOf[f] = renamed[facetOf[f]];
  return { list: kept.map(({ facet }) => facet), facetOf, adjacency };
}

function grow(
  { mesh, faceNormal }: Surface,
  adjacency: Int32Array,
  facetOf: Int32Array,
  seed: number,
  label: number,
  off: number,
): number[] {
  const { positions: p, triangles: t } = mesh;
  const nx = faceNormal[3 * seed];
  const ny = faceNormal[3 * seed + 1];
  const nz = faceNormal[3 * seed + 2];
  const o = 3 * t[3 * seed];
  const level = nx * p[o] + ny * p[o + 1] + nz * p[o + 2];
  const faces = [seed];
  facetOf[seed] = label;
  for (let head = 0; head < faces.length; head += 1) {
    for (let e = 0; e < 3; e += 1) {
      const g = adjacency[3 * faces[head] + e];
      if (g < 0 || facetOf[g] >= 0) continue;
      const along = faceNormal[3 * g] * nx + faceNormal[3 * g + 1] * ny + faceNormal[3 * g + 2] * nz;
      // A needle's own normal is worthless; its corners decide.
      if (along < 0.9) continue;
      let flat = true;
      for (let c = 0; c < 3 && flat; c += 1) {
        const v = 3 * t[3 * g + c];
        flat = Math.abs(nx * p[v] + ny * p[v + 1] + nz * p[v + 2] - level) <= off;
      }
      if (!flat) continue;
      facetOf[g] = label;
      faces.push(g);
    }
  }
  return faces;
}

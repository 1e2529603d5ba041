import type { Mesh, Vec3 } from '../types.ts';
import { algebraicCircle } from './circle-fit.ts';
import { fitCylinder } from './cylinder-fit.ts';
import { facetEdges, readFacetEdges, type FacetEdges } from './facet-edges.ts';
import { frameOf } from './frame.ts';
import type { PlanarPatches } from './planar-patches.ts';
import { coordinatesOf, type RoundRegion } from './round-region.ts';
import { regularFlats } from './regular-flats.ts';

export interface FacetedOptions {
  /** What counts as exact, mm. */
  readonly distance: number;
  /** Largest radius worth looking at, mm. */
  readonly maxRadius: number;
  /** Largest angle that one flat may span as seen from the axis, radians. */
  readonly maxSpan: number;
}

/** Angle between directions that still count as parallel, for edges long enough. */
const parallel = 1e-3;
/** Fewest flats that prove a circle: four flats give five columns of vertices, two more than a circle needs. */
const fewestFlats = 4;

interface Circle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Everything the growing of one region shares. */
interface Work {
  readonly mesh: Mesh;
  readonly neighbors: Int32Array;
  readonly patches: PlanarPatches;
  readonly options: FacetedOptions;
  readonly cosMaxBend: number;
  readonly edges: FacetEdges;
  readonly side: FacetEdges;
  /** Region that holds a patch, −1 for none. */
  readonly owner: Int32Array;
}

/**
 * Cylinders as constructive modelers export them: flat strips side by side, each pair meeting in an edge parallel to
 * the axis, all those edges on one circle. Exact data is expected (residuals of a few `distance`); what a cut leaves
 * on the flats between the columns (cross holes, split planes) neither disturbs nor enters the fit.
 */
export function facetedRounds(
  mesh: Mesh,
  neighbors: Int32Array,
  patches: PlanarPatches,
  options: FacetedOptions,
): RoundRegion[] {
  const work: Work = {
    mesh,
    neighbors,
    patches,
    options,
    cosMaxBend: Math.cos(options.maxSpan),
    edges: facetEdges(),
    side: facetEdges(),
    owner: new Int32Array(patches.count).fill(-1),
  };
  const tried = new Uint8Array(patches.count);
  const regions: RoundRegion[] = [];
  for (let patch = 0; patch < patches.count; patch++) {
    // A strip has two parallel sides, so at least two triangles.
    if (tried[patch] === 1 || work.owner[patch] >= 0) continue;
    if (patches.starts[patch + 1] - patches.starts[patch] < 2) continue;
    tried[patch] = 1;
    for (const strip of stripsOf(work, patch)) {
      const members = growStrip(work, patch, strip);
      if (members === null) continue;
      for (const member of members.patches) tried[member] = 1;
      const region = regionOf(work, members);
      if (region === null) continue;
      for (const member of members.patches) work.owner[member] = regions.length;
      regions.push(region);
      break;
    }
  }
  return regions;
}

/** A patch seen as a strip: bending edges of one sense along both its parallel sides. */
interface Strip {
  readonly axis: Vec3;
  readonly sense: 1 | -1;
  /** One vertex of each side, and the patch beyond it. */
  readonly low: number;
  readonly high: number;
  readonly beyondLow: number;
  readonly beyondHigh: number;
}

function stripsOf(work: Work, patch: number): Strip[] {
  const { edges, patches } = work;
  readFacetEdges(work.mesh, work.neighbors, patches, patch, work.cosMaxBend, edges);
  const strips: Strip[] = [];
  if (edges.count < 2) return strips;
  const seen: Vec3[] = [];
  for (let e = 0; e < edges.count && seen.length < 6; e++) {
    const axis = directionAt(edges, e);
    if (seen.some(d => acrossLength(d, axis) <= 2 * parallel)) continue;
    seen.push(axis);
    const sides = outerSides(work, edges, patch, axis, edges.sense[e]);
    if (sides === null) continue;
    strips.push({
      axis,
      sense: edges.sense[e] === 1 ? 1 : -1,
      low: edges.from[sides.low],
      high: edges.from[sides.high],
      beyondLow: edges.other[sides.low],
      beyondHigh: edges.other[sides.high],
    });
  }
  return strips;
}

/** The longest edges parallel to `axis` at both extremes across the patch; null when there is only one side. */
function outerSides(
  work: Work,
  edges: FacetEdges,
  patch: number,
  axis: Vec3,
  sense: number,
): { low: number; high: number } | null {
  const { positions: p } = work.mesh;
  const n = work.patches.normals;
  const across: Vec3 = [
    n[3 * patch + 1] * axis[2] - n[3 * patch + 2] * axis[1],
    n[3 * patch + 2] * axis[0] - n[3 * patch] * axis[2],
    n[3 * patch] * axis[1] - n[3 * patch + 1] * axis[0],
  ];
  const placeOf = (e: number): number => {
    const at = 3 * edges.from[e];
    return across[0] * p[at] + across[1] * p[at + 1] + across[2] * p[at + 2];
  };
  const { distance } = work.options;
  let low = -1;
  let high = -1;
  let lowPlace = Infinity;
  let highPlace = -Infinity;
  for (let e = 0; e < edges.count; e++) {
    if (edges.sense[e] !== sense || !isParallel(edges, e, axis, distance)) continue;
    const place = placeOf(e);
    if (place < lowPlace - distance || (place <= lowPlace + distance && longer(edges, e, low))) {
      low = e;
      lowPlace = place;
    }
    if (place > highPlace + distance || (place >= highPlace - distance && longer(edges, e, high))) {
      high = e;
      highPlace = place;
    }
  }
  return high >= 0 && highPlace - lowPlace > 4 * distance ? { low, high } : null;
}

function longer(edges: FacetEdges, e: number, than: number): boolean {
  return than < 0 || edges.length[e] > edges.length[than];
}

function directionAt(edges: FacetEdges, e: number): Vec3 {
  return [edges.direction[3 * e], edges.direction[3 * e + 1], edges.direction[3 * e + 2]];
}

function acrossLength(a: Vec3, b: Vec3): number {
  const x = a[1] * b[2] - a[2] * b[1];
  const y = a[2] * b[0] - a[0] * b[2];
  const z = a[0] * b[1] - a[1] * b[0];
  return Math.sqrt(x * x + y * y + z * z);
}

function isParallel(edges: FacetEdges, e: number, axis: Vec3, distance: number): boolean {
  const d = edges.direction;
  const x = d[3 * e + 1] * axis[2] - d[3 * e + 2] * axis[1];
  const y = d[3 * e + 2] * axis[0] - d[3 * e] * axis[2];
  const z = d[3 * e] * axis[1] - d[3 * e + 1] * axis[0];
  const allowed = Math.min(0.1, parallel + (2 * distance) / edges.length[e]);
  return x * x + y * y + z * z <= allowed * allowed;
}

interface Members {
  readonly axis: Vec3;
  readonly sense: 1 | -1;
  readonly patches: readonly number[];
}

/** Tries both neighbors of the strip for the third column of a circle, and grows from what they give. */
function growStrip(work: Work, patch: number, strip: Strip): Members | null {
  const { u, v } = frameOf(strip.axis);
  const flat = flattener(work.mesh, u, v);
  for (const [beyond, shared] of [
    [strip.beyondHigh, strip.high],
    [strip.beyondLow, strip.low],
  ] as const) {
    const third = farSide(work, beyond, strip, shared);
    if (third < 0) continue;
    const points = [strip.low, strip.high, third].flatMap(vertex => flat(vertex));
    const circle = algebraicCircle(points);
    if (circle === null || !(circle.radius <= work.options.maxRadius)) continue;
    const members = grow(work, patch, strip, circle, flat);
    if (members.length >= fewestFlats) return { axis: strip.axis, sense: strip.sense, patches: members };
  }
  return null;
}

function flattener(mesh: Mesh, u: Vec3, v: Vec3): (vertex: number) => [number, number] {
  const { positions: p } = mesh;
  return vertex => {
    const at = 3 * vertex;
    return [
      u[0] * p[at] + u[1] * p[at + 1] + u[2] * p[at + 2],
      v[0] * p[at] + v[1] * p[at + 1] + v[2] * p[at + 2],
    ];
  };
}

/** A vertex on the side of the neighboring strip that lies away from the shared edge; −1 when it has none. */
function farSide(work: Work, beyond: number, strip: Strip, shared: number): number {
  const { side } = work;
  readFacetEdges(work.mesh, work.neighbors, work.patches, beyond, work.cosMaxBend, side);
  const sides = outerSides(work, side, beyond, strip.axis, strip.sense);
  if (sides === null) return -1;
  const { u, v } = frameOf(strip.axis);
  const flat = flattener(work.mesh, u, v);
  const [x, y] = flat(shared);
  const gap = (vertex: number): number => {
    const [a, b] = flat(vertex);
    return Math.hypot(a - x, b - y);
  };
  const low = side.from[sides.low];
  const high = side.from[sides.high];
  return gap(low) > gap(high) ? low : high;
}

/** Breadth first over edges parallel to the axis; the circle is fitted anew as columns of vertices come in. */
function grow(
  work: Work,
  seed: number,
  strip: Strip,
  start: Circle,
  flat: (vertex: number) => [number, number],
): number[] {
  const { edges, options } = work;
  const tolerance = 10 * options.distance;
  let circle = start;
  const members = [seed];
  const isMember = new Set(members);
  const columns = new Set<number>();
  const points: number[] = [];
  let refitAt = 6;
  for (let head = 0; head < members.length; head++) {
    readFacetEdges(work.mesh, work.neighbors, work.patches, members[head], work.cosMaxBend, edges);
    for (let e = 0; e < edges.count; e++) {
      if (edges.sense[e] !== strip.sense || !isParallel(edges, e, strip.axis, options.distance)) continue;
      const other = edges.other[e];
      const known = isMember.has(other);
      if (!known && !joins(work, other, edges.from[e], edges.to[e], strip, circle, flat, tolerance)) continue;
      for (const vertex of [edges.from[e], edges.to[e]]) {
        if (columns.has(vertex)) continue;
        columns.add(vertex);
        points.push(...flat(vertex));
      }
      if (!known) {
        isMember.add(other);
        members.push(other);
      }
      if (columns.size < refitAt) continue;
      refitAt = Math.max(refitAt + 1, Math.ceil(1.2 * refitAt));
      circle = algebraicCircle(points) ?? circle;
    }
  }
  return members;
}

/** Whether the patch beyond a column is a flat of the same cylinder. */
function joins(
  work: Work,
  patch: number,
  from: number,
  to: number,
  strip: Strip,
  circle: Circle,
  flat: (vertex: number) => [number, number],
  tolerance: number,
): boolean {
  if (work.owner[patch] >= 0) return false;
  const { normals, starts, faces } = work.patches;
  const { axis, sense } = strip;
  const normal: Vec3 = [normals[3 * patch], normals[3 * patch + 1], normals[3 * patch + 2]];
  const [x, y] = flat(from);
  const [x2, y2] = flat(to);
  const { u, v } = frameOf(axis);
  const nx = normal[0] * u[0] + normal[1] * u[1] + normal[2] * u[2];
  const ny = normal[0] * v[0] + normal[1] * v[1] + normal[2] * v[2];
  if (nx * nx + ny * ny < 1 - 1e-4) return false;
  if (Math.abs(Math.hypot(x - circle.x, y - circle.y) - circle.radius) > tolerance) return false;
  if (Math.abs(Math.hypot(x2 - circle.x, y2 - circle.y) - circle.radius) > tolerance) return false;
  const depth = sense * (nx * (x - circle.x) + ny * (y - circle.y));
  if (depth < circle.radius * Math.cos(work.options.maxSpan / 2) - tolerance) return false;
  const limit = circle.radius + tolerance;
  const { triangles: t } = work.mesh;
  for (let i = starts[patch]; i < starts[patch + 1]; i++) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = flat(t[3 * faces[i] + k]);
      const dx = a - circle.x;
      const dy = b - circle.y;
      if (!(dx * dx + dy * dy <= limit * limit)) return false;
    }
  }
  return true;
}

/** Final fit over the columns; `null` when they are not exactly on a cylinder, or the flats are too unlike. */
function regionOf(work: Work, members: Members): RoundRegion | null {
  const { mesh, patches, options } = work;
  const columns = columnsOf(work, members);
  const sample =
    columns.length <= 2000 ? columns : columns.filter((_, i) => i % Math.ceil(columns.length / 2000) === 0);
  const fit = fitCylinder(coordinatesOf(mesh.positions, sample), members.axis);
  if (fit === null || fit.max > 10 * options.distance || fit.radius > options.maxRadius) return null;
  const flats = regularFlats(patches, members.patches, fit, mesh);
  if (flats === null) return null;
  const faces = flats.patches.flatMap(patch =>
    Array.from(patches.faces.subarray(patches.starts[patch], patches.starts[patch + 1])),
  );
  const { axis, point, radius, rms, max } = fit;
  return {
    sense: members.sense,
    cylinder: { axis, point, radius },
    faces,
    vertices: columns,
    rms,
    max,
    spans: flats.spans,
  };
}

/** Ends of the edges between two member flats, ascending. */
function columnsOf(work: Work, members: Members): number[] {
  const { edges, options } = work;
  const isMember = new Set(members.patches);
  const columns = new Set<number>();
  for (const member of members.patches) {
    readFacetEdges(work.mesh, work.neighbors, work.patches, member, work.cosMaxBend, edges);
    for (let e = 0; e < edges.count; e++) {
      if (!isMember.has(edges.other[e]) || edges.sense[e] !== members.sense) continue;
      if (!isParallel(edges, e, members.axis, options.distance)) continue;
      columns.add(edges.from[e]).add(edges.to[e]);
    }
  }
  return Array.from(columns).sort((a, b) => a - b);
}

import { buildTree, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';
import { sampleSurface, type Samples } from './samples.ts';
import { describeSurface, type Surface } from './surface.ts';
import { buildVertexGrid, type VertexGrid } from './vertex-grid.ts';

/** One of the two shapes with what the search asks of it again and again. */
export interface Shape {
  readonly surface: Surface;
  readonly tree: TriangleTree;
  readonly samples: Samples;
}

/** The two shapes under comparison, and the lengths by which they are judged. */
export interface Pair {
  readonly before: Shape;
  readonly after: Shape;
  /** Two surfaces are the same within it. */
  readonly tolerance: number;
  /** Below it a distance is rounding: never larger than the tolerance. */
  readonly floor: number;
  /** AFTER's vertices in a grid with the floor as its reach; made once, when first asked for. */
  readonly floorGrid: () => VertexGrid;
}

/** Null when either mesh has no face with area. */
export function preparePair(before: Mesh, after: Mesh, tolerance_mm: number): Pair | null {
  const a = describeSurface(before);
  const b = describeSurface(after);
  if (a === null || b === null) return null;
  const floor = noiseFloor(a, b, tolerance_mm);
  let grid: VertexGrid | null = null;
  const floorGrid = (): VertexGrid => (grid ??= buildVertexGrid(after.positions, floor));
  return { before: shapeOf(a), after: shapeOf(b), tolerance: tolerance_mm, floor, floorGrid };
}

function shapeOf(surface: Surface): Shape {
  return {
    surface,
    tree: buildTree(surface.mesh),
    samples: sampleSurface(surface, compareDefaults.alignSamples),
  };
}

/** What rounding of both files' coordinates may amount to, in AFTER's frame, but at most the tolerance. */
function noiseFloor(a: Surface, b: Surface, tolerance: number): number {
  const scale = Math.max(1, b.diagonal / a.diagonal);
  const rounding = compareDefaults.alignRoundings * (a.noise * scale + b.noise);
  return Math.min(tolerance, Math.max(rounding, 1e-9 * b.diagonal));
}

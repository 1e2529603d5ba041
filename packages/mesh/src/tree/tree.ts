/**
 * A bounding volume hierarchy over the triangles of one mesh, as flat arrays: answers which triangle is nearest to
 * a point, which a ray meets first, which lie in a box.
 *
 * The faces are reordered so that neighbors in space are neighbors in memory; a place in that order is a *slot*.
 * Vertices are renumbered in the order in which the slots first use them; vertices that no face uses are left out,
 * and so are faces with a corner that is not finite.
 *
 * Nodes come in pairs: the children of a node are `links[node]` and `links[node] + 1`. Node 0 is the root. A tree
 * without faces has no nodes.
 */
export interface TriangleTree {
  /** Number of slots: faces in the tree. */
  readonly size: number;
  /**
   * Middle of the bounds, or of most of the vertices; boxes are stored relative to it, so that 32 bits suffice far from
   * the origin too.
   */
  readonly center: readonly [number, number, number];
  /** Length of the bounds' diagonal. */
  readonly diagonal: number;
  /** 6 per node: least x, y, z, greatest x, y, z, minus `center`, rounded outward. */
  readonly boxes: Float32Array;
  /** Per node: index of the first child, or, when negative, a leaf: see `leafStart` and `leafCount`. */
  readonly links: Int32Array;
  /** 3 per vertex of the tree, in double precision, not moved. */
  readonly vertices: Float64Array;
  /** 3 per slot: vertices of the tree. */
  readonly corners: Uint32Array;
  /** Slot → face of the mesh. */
  readonly faceOf: Uint32Array;
  /** Face of the mesh → slot; `noSlot` for a face that is not in the tree. */
  readonly slotOf: Uint32Array;
  /** Vertex of the tree → vertex of the mesh. */
  readonly vertexOf: Uint32Array;
}

/** Marks a face that is not in the tree. */
export const noSlot = 0xffffffff;

/** Deepest node of any tree that `buildTree` makes; bounds the stacks of the queries. */
export const maxDepth = 96;

/** Most faces in a leaf. */
export const leafSize = 4;

/** The link of a leaf that holds `count` slots from `start` on. */
export function leafLink(start: number, count: number): number {
  return -1 - (start * 8 + count);
}

export function leafStart(link: number): number {
  return (-1 - link) >>> 3;
}

export function leafCount(link: number): number {
  return (-1 - link) & 7;
}

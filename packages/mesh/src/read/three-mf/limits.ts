/**
 * What a package may ask for. Packages multiply: a few lines of components inside components stand for millions of
 * triangles, so most limits are relative to what the file itself lists. All are common practice without a source:
 * above any plate of parts, low enough to hold and to end in seconds.
 */
export const threeMfLimits = {
  /** Components inside components. Real assemblies have a handful of levels; each one is a call on the stack. */
  componentDepth: 64,
  /** Triangles once placed, whatever the file lists: what memory holds. */
  triangles: 30_000_000,
  /** Placed triangles that need no justification: hundreds of copies of a part of some thousand triangles. */
  freeTriangles: 1_000_000,
  /** Beyond those, placed triangles for each one listed, so that the work stays in proportion to the file. */
  trianglesPerListed: 64,
  /** Items and components once multiplied, whatever the file lists. */
  placements: 100_000,
  /** Placements that need no justification: one for each object that a file may hold. */
  freePlacements: 4096,
  /** Beyond those, placements for each object listed. */
  placementsPerObject: 64,
  /** Build items that need no justification; each becomes an object that is measured by itself. */
  freeItems: 1000,
  /** Beyond those, build items for each different object that they place. */
  itemsPerObject: 4,
  /** Objects that one model part may list, the inner ones of assemblies included. */
  listedObjects: 65_536,
  /** Items and components that one model part may list. */
  listedPlacements: 100_000,
};

/** What the model parts read so far list, before anything is placed. */
export interface Listed {
  triangles: number;
  objects: number;
}

/** Most triangles that may be placed. */
export function mostTriangles(listed: Listed): number {
  const { triangles, freeTriangles, trianglesPerListed } = threeMfLimits;
  return Math.min(triangles, Math.max(freeTriangles, trianglesPerListed * listed.triangles));
}

/** Most items and components that may be placed. */
export function mostPlacements(listed: Listed): number {
  const { placements, freePlacements, placementsPerObject } = threeMfLimits;
  return Math.min(placements, Math.max(freePlacements, placementsPerObject * listed.objects));
}

/** Most build items, by how many different objects they place. */
export function mostItems(different: number): number {
  return Math.max(threeMfLimits.freeItems, threeMfLimits.itemsPerObject * different);
}

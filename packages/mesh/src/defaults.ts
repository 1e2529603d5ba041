/** Every default of this package, each with where it comes from. */
export const meshDefaults = {
  crossings: {
    /** Crossing pairs counted at most: enough to say that a mesh is badly tangled; common practice, no source. */
    limit: 100_000,
    /** Pairs of faces with meeting boxes looked at, at most, per face: a clean fine mesh has about 7; no source. */
    boxPairsPerFace: 40,
    /** The same, whatever the size: a thousand long faces may all meet; no source. */
    boxPairs: 1_000_000,
  },
  unitSuspect: {
    /**
     * Largest extent below which meters are suspected: 0.3 m is about what a printer's bed measures, while a part of
     * 0.3 mm could hardly be printed. Common practice, no source.
     */
    metersBelow_mm: 0.3,
    /**
     * Largest extent below which inches are suspected: 5 inches are 127 mm, a common size of part, while parts under
     * 5 mm are rare. Common practice, no source.
     */
    inchesBelow_mm: 5,
  },
  seams: {
    /**
     * Borders this near each other, as a share of the diagonal, are one seam: about four units in the last place of a
     * 32-bit coordinate of that size (IEEE 754: 2⁻²³ ≈ 1.2e-7), and the tolerance for 'same'.
     */
    share: 1e-6,
  },
  features: {
    /** Planes listed at most: enough to say where a part's faces went; common practice, no source. */
    planes: 12,
    /** Least share of the whole area of a listed plane: common practice, no source. */
    planeShare: 0.005,
    /** Least turn of a listed bore or pin. Half a bore is worth listing, less one facet on each side of the cut. */
    minTurn: 0.4,
    /** From this turn on a round surface is a bore or pin even where it runs on smoothly: common practice, no source. */
    fullTurn: 0.6,
    /** Largest angle one flat spans: a hexagon's 60° and a little, so that a square hole is no bore. */
    maxSpan_deg: 62,
    /** Angle between normals within one plane: a tenth of the facet angle of a 300-sided circle. */
    planeAngle_rad: 2e-3,
    /** Noise that a scanned bore may have, as a share of its radius: common practice, no source. */
    maxNoiseOfRadius: 0.02,
  },
  overhang: {
    /** Habit of the trade: four public design guides agree on 45°. */
    limit_deg: 45,
    /** A tenth of a usual first layer: common practice, no source. */
    bedTolerance_mm: 0.02,
  },
  walls: {
    /** How far a normal may stand off the line across the wall, degrees: what noise and coarse facets do; no source. */
    facing_deg: 2,
    /** The same at a sharp edge, where a tapering wall ends: up to 40° of taper; common practice, no source. */
    facingAtEdge_deg: 20,
    /** From this bend on an edge is sharp, degrees: common practice, no source. */
    sharp_deg: 50,
    /** Thin places listed: common practice, no source. */
    places: 5,
    /**
     * A fine mesh may hold a wall this share thinner than the one told: a thousandth of a wall is below what a printer
     * repeats; common practice, no source. Where the work allowed suffices, as on most parts, nothing thinner is left.
     */
    tolerance: 1e-3,
    /** Pairs of nodes and faces looked at per face, at most; smooth shells and tubes need 7 to 11; no source. */
    pairsPerFace: 13,
    /** The same for what is within the tolerance, and for places beside the thinnest; no source. */
    extraPairsPerFace: 3,
  },
} as const;

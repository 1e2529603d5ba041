import type { Format, Mat3, Note, Unit, Vec3 } from './types.ts';

/** What keeps a mesh from being the clean surface of a solid. */
export interface Soundness {
  /** Every edge has exactly two faces, in opposite directions. */
  readonly watertight: boolean;
  readonly boundary_edges: number;
  readonly boundary_loops: number;
  readonly nonmanifold_edges: number;
  readonly flipped_edges: number;
  readonly degenerate_faces: number;
  readonly duplicate_faces: number;
  /** Pairs of faces that cross or overlap; null when not computed, with a note. */
  readonly self_intersections: number | null;
  readonly inverted_shells: number;
  /** First places of each flaw whose count is not 0, keyed by the name of the count. */
  readonly places_mm: Readonly<Record<string, readonly Vec3[]>>;
}

export type Feature = Bore | Pin | Plane;

interface Round {
  /** Diameter of the circle through the vertices. */
  readonly diameter_mm: number;
  /** Diameter of the largest circle inside the facets (bore) or touching them from inside (pin): across the flats. */
  readonly inscribed_diameter_mm: number;
  /** Unit vector along the axis; the sign is chosen so that the first non-zero component is positive. */
  readonly axis: Vec3;
  /** Middle of the axis within the feature. */
  readonly at_mm: Vec3;
  readonly length_mm: number;
  /** Share of the full turn that the surface covers, 0…1. */
  readonly turn: number;
  /** Sides of the tessellation, when it is regular enough to count. */
  readonly sides: number | null;
  /** Largest distance of a vertex from the fitted cylinder. */
  readonly residual_mm: number;
}

export interface Bore extends Round {
  readonly kind: 'bore';
  /** Open at both ends; false when one is closed (blind); null when it cannot be told. */
  readonly through: boolean | null;
}

export interface Pin extends Round {
  readonly kind: 'pin';
  readonly through: null;
}

export interface Plane {
  readonly kind: 'plane';
  readonly diameter_mm: null;
  readonly inscribed_diameter_mm: null;
  /** Unit outward normal. */
  readonly axis: Vec3;
  /** Area-weighted middle. */
  readonly at_mm: Vec3;
  readonly length_mm: null;
  readonly through: null;
  readonly area_mm2: number;
}

/** A place where material is thin: two surface points that face each other through material. */
export interface ThinPlace {
  readonly thickness_mm: number;
  readonly from_mm: Vec3;
  readonly to_mm: Vec3;
}

/** Everything measured of one mesh. Keys are the keys of `kinprint measure --json`. */
export interface Measurement {
  readonly name: string | null;
  readonly format: Format;
  readonly unit: Unit;
  readonly unit_assumed: boolean;
  readonly triangles: number;
  /** Vertices that faces use, after exact welding. */
  readonly vertices: number;
  readonly area_mm2: number;
  /** Signed; null unless the oriented faces form a closed cycle. */
  readonly volume_mm3: number | null;
  readonly bounds_mm: { readonly min: Vec3; readonly max: Vec3; readonly size: Vec3 } | null;
  /** Of the solid; null when there is no volume. */
  readonly centroid_mm: Vec3 | null;
  /** Of the solid, about the centroid, for density 1 per mm³; off-diagonal entries are the negative products of inertia. */
  readonly inertia_mm5: Mat3 | null;
  /** Ascending principal moments with their unit axes (rows, right-handed). */
  readonly principal: { readonly moments_mm5: Vec3; readonly axes: Mat3 } | null;
  readonly shells: number;
  readonly genus: number | null;
  readonly soundness: Soundness;
  readonly features: readonly Feature[];
  readonly thinnest_wall_mm: number | null;
  readonly thin_places: readonly ThinPlace[];
  /** Area that leans beyond the limit, as the file stands with `up` as the build direction. */
  readonly overhang_area_mm2: number | null;
  readonly bed_contact_mm2: number | null;
  /** Build direction of the two above. */
  readonly up: Vec3;
  readonly notes: readonly Note[];
}

/** The figures that cost little more than reading the file: no features, walls, overhang or self-intersections. */
export type CoreMeasurement = Pick<
  Measurement,
  | 'triangles'
  | 'vertices'
  | 'area_mm2'
  | 'volume_mm3'
  | 'bounds_mm'
  | 'centroid_mm'
  | 'inertia_mm5'
  | 'principal'
  | 'shells'
  | 'genus'
  | 'soundness'
  | 'notes'
>;

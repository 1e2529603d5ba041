import type { Mesh, Unit } from '../../types.ts';

/** What one model part of a package says, in its own unit, not yet placed. */
export interface ModelPart {
  /** Key of the part in the archive. */
  readonly key: string;
  readonly unit: Unit;
  readonly objects: ReadonlyMap<number, ModelObject>;
  readonly items: readonly Placement[];
  /** Namespaces in `requiredextensions` that say nothing about shape. */
  readonly appearanceOnly: readonly string[];
  /** False when the part has no namespace, against the specification. */
  readonly namespaced: boolean;
}

export interface ModelObject {
  readonly id: number;
  readonly name: string | null;
  readonly type: ObjectType;
  /** Vertices as listed, without those that no triangle uses, not welded; null when the object consists of components. */
  readonly mesh: Mesh | null;
  readonly components: readonly Placement[];
}

export const objectTypes = ['model', 'solidsupport', 'support', 'surface', 'other'] as const;
export type ObjectType = (typeof objectTypes)[number];

/** An object put somewhere: an item of the build, or a component of another object. */
export interface Placement {
  readonly objectId: number;
  readonly transform: Transform;
  /** Key of the part that the object is in; null for the same part. */
  readonly part: string | null;
  /** Where it stands in its part. */
  readonly line: number;
}

/**
 * Twelve numbers m00 m01 m02 m10 … m32 of an affine map of row vectors: x' = m00·x + m10·y + m20·z + m30 and so on
 * (3MF Core Specification 1.4.0, 3.3).
 */
export type Transform = Float64Array;

export const coreNamespace = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
/** From memory: 3MF Production Extension 1.1. */
export const productionNamespace = 'http://schemas.microsoft.com/3dmanufacturing/production/2015/06';
/** Extensions that add looks or names to faces and leave the shape alone; the first from memory. */
export const appearanceNamespaces: readonly string[] = [
  'http://schemas.microsoft.com/3dmanufacturing/material/2015/02',
  'http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07',
];

/** The key of a part by its name, which begins with a slash and may be percent-encoded. */
export function partKey(name: string): string {
  let plain = name;
  try {
    plain = decodeURI(name);
  } catch (error) {
    if (!(error instanceof URIError)) throw error;
  }
  return plain.replace(/^\//, '').toLowerCase();
}

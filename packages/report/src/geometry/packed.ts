import type { Vec3 } from '@kinprint/mesh';
import type { CodedMesh } from './mesh-coding.ts';

/** Meshes as a page carries them: rounded to a lattice, coded, deflated (RFC 1950) and written in base64. */
export interface PackedMeshes {
  readonly step_mm: number;
  readonly origin_mm: Vec3;
  readonly meshes: readonly CodedMesh[];
  readonly data: string;
}

/** How far a vertex may have moved, at most. */
export function movedAtMost({ step_mm }: Pick<PackedMeshes, 'step_mm'>): number {
  return (Math.sqrt(3) / 2) * step_mm;
}

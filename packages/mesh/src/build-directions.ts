import type { Vec3 } from './types.ts';

/** The directions of a mesh that may point up on the printer, by the names that manifests and options give them. */
export const buildDirections = {
  x: [1, 0, 0],
  '-x': [-1, 0, 0],
  y: [0, 1, 0],
  '-y': [0, -1, 0],
  z: [0, 0, 1],
  '-z': [0, 0, -1],
} as const satisfies Record<string, Vec3>;

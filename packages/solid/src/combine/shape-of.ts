import { area, type Mesh } from '@kinprint/mesh';
import { measureShells } from '../shell-measure.ts';
import { findShells } from '../shells.ts';

/** A mesh with the figures that order it among others. */
export function shapeOf(mesh: Mesh) {
  const volume_mm3 = measureShells(mesh, findShells(mesh)).reduce((sum, shell) => sum + shell.volume_mm3, 0);
  return { mesh, volume_mm3, area_mm2: area(mesh) };
}

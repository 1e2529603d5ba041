import { meshDefaults } from '../defaults.ts';
import type { MeshFile, Note } from '../types.ts';

/**
 * The note on a size that suggests inches or meters, for a file that states no unit; empty otherwise. Only a
 * hint: small and large parts exist.
 */
export function suspectUnit(file: MeshFile): Note[] {
  const extent = file.unitAssumed ? largestExtent(file) : 0;
  if (!(extent > 0)) return [];
  const { metersBelow_mm, inchesBelow_mm } = meshDefaults.unitSuspect;
  if (extent >= inchesBelow_mm) return [];
  const unit = extent < metersBelow_mm ? 'meters' : 'inches';
  const size = extent.toPrecision(3);
  return [
    {
      code: 'unit-suspect',
      text: `The largest extent is ${size} mm when read as millimeters, which suggests that the file is in ${unit}.`,
      about: 'unit',
    },
  ];
}

function largestExtent(file: MeshFile): number {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (const { mesh } of file.objects) {
    const { positions } = mesh;
    for (let i = 0; i < positions.length; i++) {
      const axis = i % 3;
      if (positions[i] < min[axis]) min[axis] = positions[i];
      if (positions[i] > max[axis]) max[axis] = positions[i];
    }
  }
  return Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}

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
  let largest = 0;
  for (let axis = 0; axis < 3; axis++) {
    let min = Infinity;
    let max = -Infinity;
    for (const { mesh } of file.objects) {
      const { positions } = mesh;
      for (let i = axis; i < positions.length; i += 3) {
        const value = positions[i];
        if (value < min) min = value;
        if (value > max) max = value;
      }
    }
    largest = Math.max(largest, max - min);
  }
  return largest;
}

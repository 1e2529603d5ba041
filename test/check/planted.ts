import type { Mesh } from '@kinprint/mesh';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';

/** Where the one variant's manifest is. */
export const manifest = 'devices/cuff/left/variant.yaml';
export const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
export const plate = plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 1.5, sides: 64 }]);
export const solid = box(20, 30, 10);

/** A registry with one variant, `left`. */
export function one(lines: string, mesh: Mesh = solid, registryLines = ''): SmallRegistry {
  const registry = smallRegistry(registryLines);
  registry.variant('left', lines, { 'shell.stl': mesh });
  return registry;
}

/** An entry of a log, for content that is not there. */
export function revision(letter: string, digit: string): string {
  return `  - letter: ${letter}\n    digest: sha256:${digit.repeat(64)}\n    date: 2026-03-14\n`;
}

import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Mesh } from '@kinprint/mesh';
import { writeStlBinary } from '@kinprint/mesh';
import { temporaryFolder } from './temporary-repository.ts';

/** A registry in the temporary folder, for one test. */
export interface SmallRegistry {
  readonly folder: string;
  /** Writes a file by its path from the root, and the folders above it; meshes as binary STL. */
  write(file: string, content: Mesh | Uint8Array | string): void;
  /**
   * Writes a variant of the device `cuff`: `variant.yaml` with the lines given below its head, and meshes in `parts`.
   *
   * @param lines of the manifest, below kind, title, license and authors
   */
  variant(name: string, lines: string, meshes?: Readonly<Record<string, Mesh | Uint8Array | string>>): void;
}

/**
 * A registry without any finding: registry.yaml, a device `cuff`, and nothing more until `variant` is called.
 *
 * @param registryLines more lines of registry.yaml
 */
export function smallRegistry(registryLines = ''): SmallRegistry {
  const folder = temporaryFolder();
  function write(file: string, content: Mesh | Uint8Array | string): void {
    const absolute = path.join(folder, file);
    mkdirSync(path.dirname(absolute), { recursive: true });
    const plain = typeof content === 'string' || content instanceof Uint8Array;
    writeFileSync(absolute, plain ? content : writeStlBinary(content));
  }
  write('registry.yaml', `kinprint: registry/1\nname: Utensil-cuff lending group\n${registryLines}`);
  write('devices/cuff/device.yaml', 'kinprint: device/1\ntitle: Utensil cuff\npurpose: Holds a spoon.\n');
  return {
    folder,
    write,
    variant(name, lines, meshes = {}) {
      write(`devices/cuff/${name}/variant.yaml`, variantHead + lines);
      for (const [file, mesh] of Object.entries(meshes)) write(`devices/cuff/${name}/parts/${file}`, mesh);
    },
  };
}

/** Five lines. */
export const variantHead = `kinprint: variant/1
title: Cuff
license: CC-BY-4.0
authors:
  - name: Robin Sample
`;

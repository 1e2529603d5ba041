import type { Mesh } from '@kinprint/mesh';
import { assemblyOf, type AssemblyMeans } from '../assembly/assembly-of.ts';
import { interferenceSearch } from '../assembly/interference-search.ts';
import type { AssemblyReport } from '../assembly/types.ts';
import { noCache } from '../cache/cache.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { smallRegistry } from './small-registry.ts';

/** The assembly of the variant `cuff/left` with these lines in its manifest and these meshes in its parts. */
export async function assembled(
  lines: string,
  meshes: Readonly<Record<string, Mesh>>,
  means: Partial<AssemblyMeans> = {},
): Promise<AssemblyReport> {
  const registry = smallRegistry();
  registry.variant('left', lines, meshes);
  const files = workingFiles(registry.folder);
  const state = await readRegistry(files);
  const variant = state.variants.get('cuff/left');
  const manifest = variant?.document.value ?? null;
  if (variant === undefined || manifest === null) throw new Error('The manifest cannot be used.');
  const { cache = noCache() } = means;
  const search = means.search ?? interferenceSearch({ cache });
  try {
    return await assemblyOf(
      { files, folder: variant.folder, manifest, refs: variant.files },
      { ...means, cache, search },
    );
  } finally {
    await search.close();
  }
}

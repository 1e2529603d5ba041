import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import * as esbuild from 'esbuild';

let folder: string | null = null;

/** The worker of threads, bundled from sources as `npm run build` does; of another file of ours where one is named. */
export async function bundleWorker(source = 'packages/registry/src/work/worker.ts'): Promise<URL> {
  const root = path.resolve(import.meta.dirname, '../../../..');
  // Inside the project, so that the bundle finds the packages it leaves outside.
  mkdirSync(path.join(root, '.cache'), { recursive: true });
  folder ??= mkdtempSync(path.join(root, '.cache', 'worker-test-'));
  const name = path.basename(source, '.ts');
  await esbuild.build({
    absWorkingDir: root,
    entryPoints: { [name]: source },
    outdir: folder,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    format: 'esm',
    platform: 'node',
    conditions: ['source'],
    external: ['manifold-3d', 'manifold-3d/*', 'isomorphic-git', 'simple-git', 'tinypool'],
    banner: {
      js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
    },
  });
  return pathToFileURL(path.join(folder, `${name}.mjs`));
}

/** To be called when the tests are over. */
export function removeWorker(): void {
  if (folder !== null) rmSync(folder, { recursive: true, force: true });
  folder = null;
}

// Bundles the command line into few files, split so that heavy modules load only inside the command that needs them.
import { rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import * as esbuild from 'esbuild';
import { root } from './setup.mjs';
import { viewerScript } from './viewer-script.mjs';

const outdir = path.join(root, 'packages/cli/dist/app');
rmSync(outdir, { recursive: true, force: true });
await esbuild.build({
  absWorkingDir: root,
  entryPoints: {
    main: 'packages/cli/src/main.ts',
    worker: 'packages/registry/src/work/worker.ts',
    drawer: 'packages/report/src/drawing/drawer.ts',
  },
  outdir,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  conditions: ['source'],
  // Modules that bring their own WebAssembly or worker files stay where npm put them.
  external: ['manifold-3d', 'manifold-3d/*', 'isomorphic-git'],
  banner: {
    js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
  },
  sourcemap: 'linked',
  logLevel: 'warning',
});
// Beside the program, which puts it into the pages of reviews.
writeFileSync(path.join(outdir, 'viewer.js'), await viewerScript());

// Bundles what runs in the page of a review into one script without imports.
import * as esbuild from 'esbuild';
import { root } from './setup.mjs';

/** The script, as `reviewPage` takes it. */
export async function viewerScript() {
  const { outputFiles } = await esbuild.build({
    absWorkingDir: root,
    entryPoints: ['packages/report/src/viewer/main.ts'],
    bundle: true,
    minify: true,
    format: 'iife',
    platform: 'browser',
    target: 'es2022',
    conditions: ['source'],
    // The license of three is named in THIRD-PARTY.md and in the first line.
    legalComments: 'none',
    banner: { js: '/* Contains three.js (https://threejs.org), MIT license, © three.js authors. */' },
    write: false,
    logLevel: 'warning',
  });
  return outputFiles[0].text;
}

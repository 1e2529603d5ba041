import { spawn } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import path from 'node:path';
import * as esbuild from 'esbuild';
import type { Outcome } from './run-cli.ts';

const root = path.resolve(import.meta.dirname, '../..');

export interface CliProcess {
  /**
   * Runs the command line in a process of its own.
   *
   * @param options `before`: a line of shell that comes first, as `ulimit -f 1`; `uid`: whose process it is
   */
  run(
    args: readonly string[],
    options?: { readonly before?: string; readonly uid?: number },
  ): Promise<Outcome & { readonly signal: NodeJS.Signals | null }>;
  remove(): void;
}

/** The command line from the sources as one file, readable by everybody, for what must happen to a whole process. */
export async function cliProcess(): Promise<CliProcess> {
  // Inside the project, so that the file finds the packages it leaves outside.
  mkdirSync(path.join(root, '.cache'), { recursive: true });
  const folder = mkdtempSync(path.join(root, '.cache', 'cli-test-'));
  chmodSync(folder, 0o755);
  const file = path.join(folder, 'cli.mjs');
  await esbuild.build({
    stdin: {
      contents: "import { runProcess } from './process.ts'; await runProcess(process.argv.slice(2));",
      resolveDir: path.join(root, 'packages/cli/src'),
      loader: 'ts',
    },
    outfile: file,
    bundle: true,
    format: 'esm',
    platform: 'node',
    conditions: ['source'],
    external: ['manifold-3d', 'manifold-3d/*', 'isomorphic-git', '@resvg/resvg-js'],
    logLevel: 'error',
    banner: {
      js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
    },
  });
  return {
    run: (args, { before = ':', uid } = {}) =>
      new Promise(resolve => {
        const child = spawn('bash', ['-c', `${before}; exec "$0" "$@"`, process.execPath, file, ...args], {
          cwd: '/',
          stdio: ['ignore', 'pipe', 'pipe'],
          timeout: 60_000,
          ...(uid === undefined ? {} : { uid, gid: uid }),
        });
        let [out, err] = ['', ''];
        child.stdout.on('data', (piece: Buffer) => (out += piece.toString()));
        child.stderr.on('data', (piece: Buffer) => (err += piece.toString()));
        child.on('close', (code, signal) => resolve({ code: code ?? -1, signal, out, err }));
      }),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

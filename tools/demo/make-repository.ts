import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadKernel } from '@kinprint/solid';
import { gitIn, identity } from './git.ts';
import type { Person } from './registry/people.ts';
import { revisions } from './revisions.ts';

/**
 * Makes a git repository of meshes with the tags rev-A, rev-B and rev-C, anew: what stood at `target` is removed.
 * Neither the machine's git configuration nor its clock has a say, so that the commits are the same everywhere.
 */
export async function makeRepository(target: string): Promise<void> {
  rmSync(target, { recursive: true, force: true });
  mkdirSync(target, { recursive: true });
  const home = mkdtempSync(path.join(tmpdir(), 'kinprint-demo-'));
  try {
    const git = gitIn(target, home);
    git(['init', '--quiet', '--initial-branch=main', '--template=']);
    for (const { tag, author, date, message, files } of revisions(await loadKernel())) {
      for (const entry of readdirSync(target))
        if (entry !== '.git') rmSync(path.join(target, entry), { recursive: true });
      for (const [name, bytes] of files) {
        mkdirSync(path.dirname(path.join(target, name)), { recursive: true });
        writeFileSync(path.join(target, name), bytes);
      }
      git(['add', '--all']);
      git(['commit', '--quiet', '--message', message], identity(personOf(author), date));
      git(['tag', tag]);
    }
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
}

function personOf(author: string): Person {
  return { name: author.slice(0, author.indexOf(' <')), email: author.slice(author.indexOf('<') + 1, -1) };
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  await makeRepository(path.resolve(process.argv[2] ?? 'demo/cuff-meshes'));

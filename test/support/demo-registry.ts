import { cpSync, existsSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { inject } from 'vitest';
import { makeRegistry } from '../../tools/demo/registry/make-registry.ts';

/**
 * Puts the demo registry at `target`: a copy of one that is made once in a run of the tests, by the file that asks first,
 * as it takes ten seconds or more.
 */
export async function demoRegistry(target: string): Promise<void> {
  const shared = path.join(inject('runFolder'), 'demo-registry');
  const [failed, making] = [`${shared}.failed`, `${shared}.making`];
  if (claimed(making)) {
    try {
      await makeRegistry(`${shared}.part`);
      renameSync(`${shared}.part`, shared);
    } catch (error) {
      writeFileSync(failed, String(error));
      throw error;
    }
  }
  while (!existsSync(shared)) {
    if (existsSync(failed)) throw new Error('Another test file could not make the demo registry.');
    await setTimeout(50);
  }
  cpSync(shared, target, { recursive: true });
}

/** Whether nobody was there before. */
function claimed(folder: string): boolean {
  try {
    mkdirSync(folder);
    return true;
  } catch {
    return false;
  }
}

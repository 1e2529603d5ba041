import { rmSync } from 'node:fs';
import path from 'node:path';
import type { Review } from '@kinprint/registry';
import { expect } from 'vitest';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn } from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

/** A registry in git: what `before` writes is on `main`, what `after` writes or takes away on `change`. */
export function twoStates(
  before: (registry: SmallRegistry) => void,
  after: (registry: SmallRegistry, remove: (file: string) => void) => void,
  registryLines = '',
): SmallRegistry {
  const registry = smallRegistry(registryLines);
  const git = (...args: string[]) => gitIn(registry.folder, ...args);
  git('init', '-q', '-b', 'main');
  before(registry);
  git('add', '-A');
  git('commit', '-q', '-m', 'Before');
  git('checkout', '-q', '-b', 'change');
  after(registry, file => rmSync(path.join(registry.folder, file), { recursive: true }));
  git('add', '-A');
  git('commit', '-q', '--allow-empty', '-m', 'After');
  git('checkout', '-q', 'main');
  return registry;
}

export interface Reviewed {
  readonly exit: number;
  readonly review: Review;
  readonly text: string;
}

/** Runs the command for programs and for people; both outputs keep their form. */
export async function review(
  registry: Pick<SmallRegistry, 'folder'>,
  change = 'main..change',
  ...args: string[]
): Promise<Reviewed> {
  const { code, out, err } = await runCli(
    ['review', change, '--no-cache', '--json', ...args],
    registry.folder,
  );
  expect(err).toBe('');
  const answer = JSON.parse(out) as Review;
  expect(objections('review', answer)).toEqual([]);
  const { out: text } = await runCli(['review', change, '--no-cache', ...args], registry.folder);
  for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
  return { exit: code, review: answer, text };
}

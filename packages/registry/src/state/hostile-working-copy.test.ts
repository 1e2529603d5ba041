import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { noCache } from '../cache/cache.ts';
import { cuffRepository } from '../testing/cuff-repository.ts';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { showVariant } from '../show/show-variant.ts';
import { stateHistory } from '../history/content-at.ts';
import { openHistory } from '../history/history.ts';
import { openRepository } from '../git/repository.ts';
import { variantDigest } from './digest.ts';
import { readRegistry } from './read-registry.ts';
import { workingFiles } from './working-files.ts';

afterAll(removeTemporaryFolders);

it("reading a stranger's registry, its history and a page of it runs nothing that it names", async () => {
  const repo = cuffRepository();
  repo.commit('start');
  const digest = await variantDigest(await readRegistry(workingFiles(repo.folder)), 'cuff/left');
  const manifest = 'devices/cuff/left/variant.yaml';
  repo.write(
    manifest,
    `${readFileSync(path.join(repo.folder, manifest), 'utf8')}revisions:\n  - {letter: A, digest: '${digest}', date: 2026-01-02}\n`,
  );
  repo.write('.gitignore', '*.tmp\n');
  repo.write('devices/cuff/left/x.tmp', 'ignored');
  repo.write('.gitattributes', '* filter=planted diff=planted\n');
  repo.git('-c', 'core.attributesFile=/dev/null', 'add', '-A');
  repo.git('commit', '-q', '-m', 'A');

  const evidence = temporaryFolder();
  const program = path.join(temporaryFolder(), 'planted.sh');
  writeFileSync(program, `#!/bin/sh\ntouch '${evidence}'/"ran-$$"\nexit 1\n`);
  chmodSync(program, 0o755);
  const hooks = path.join(repo.folder, '.git/hooks');
  mkdirSync(hooks, { recursive: true });
  for (const hook of ['fsmonitor-watchman', 'post-index-change', 'reference-transaction', 'pre-auto-gc'])
    writeFileSync(path.join(hooks, hook), `#!/bin/sh\n'${program}'\n`, { mode: 0o755 });
  for (const [key, value] of [
    ['core.fsmonitor', program],
    ['core.hooksPath', hooks],
    ['core.pager', program],
    ['core.sshCommand', program],
    ['core.alternateRefsCommand', program],
    ['filter.planted.clean', program],
    ['filter.planted.smudge', program],
    ['filter.planted.process', program],
    ['filter.planted.required', 'true'],
    ['diff.planted.textconv', program],
    ['diff.planted.command', program],
    ['diff.external', program],
    ['gpg.program', program],
    ['log.showSignature', 'true'],
    ['log.mailmap', 'true'],
    ['pager.log', program],
    ['pager.ls-files', program],
    ['alias.log', `!${program}`],
    ['alias.ls-files', `!${program}`],
    ['remote.origin.url', `ext::${program}`],
    ['remote.origin.promisor', 'true'],
    ['extensions.partialClone', 'origin'],
    ['protocol.allow', 'always'],
    ['core.untrackedCache', 'true'],
  ])
    repo.git('config', key, value);

  const state = await readRegistry(workingFiles(repo.folder));
  expect(state.variants.get('cuff/left')?.files.map(ref => ref.path)).not.toContain(
    'devices/cuff/left/x.tmp',
  );
  const repository = await openRepository(repo.folder);
  const found = await (await openHistory(repository)).find({ letter: 'A', digest });
  expect(found.found).toBe(true);
  await repository.close();
  const history = stateHistory(repo.folder);
  const page = await showVariant(state, 'cuff/left', 'A', history, noCache());
  expect(page.standing.status).toBe('recorded');
  await history.close();
  expect(readdirSync(evidence)).toEqual([]);

  // The bait works.
  try {
    execFileSync('git', ['-C', repo.folder, 'status'], { stdio: 'ignore' });
  } catch {
    // whether it succeeds is of no matter
  }
  expect(readdirSync(evidence).length).toBeGreaterThan(0);
}, 60_000);

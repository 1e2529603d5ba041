import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { revisionContent, stateHistory } from '../history/content-at.ts';
import { standing } from '../state/digest.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { boxFile, cuffRepository, leftManifest } from '../testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { recordVariant } from './record-variant.ts';
import type { RecordOptions, RecordPoint } from './record.ts';

beforeAll(identity);
afterAll(removeTemporaryFolders);

const manifestPath = 'devices/cuff/left/variant.yaml';
const read = (repo: TemporaryRepository) => readRegistry(workingFiles(repo.folder));
const manifestOf = (repo: TemporaryRepository) => readFileSync(path.join(repo.folder, manifestPath), 'utf8');

async function record(repo: TemporaryRepository, options: Partial<RecordOptions> = {}) {
  return recordVariant(await read(repo), 'cuff/left', { date: '2026-03-14', ...options });
}

const revisionsOf = async (repo: TemporaryRepository) =>
  (await read(repo)).variants.get('cuff/left')?.document.value?.revisions ?? [];

describe('recordVariant', () => {
  it('records the first letter in a repository without commits, with what is needed to read it', async () => {
    const repo = cuffRepository();
    const outcome = await record(repo);
    expect(outcome).toMatchObject({
      kind: 'recorded',
      entry: { letter: 'A', date: '2026-03-14', by: 'Robin Sample' },
      notes: [],
    });
    expect(manifestOf(repo).startsWith(leftManifest)).toBe(true);
    expect(await standing(await read(repo), 'cuff/left')).toMatchObject({ status: 'recorded' });
    expect(repo.git('status', '--porcelain')).toBe('');
    expect(repo.git('ls-files').split('\n')).toEqual([
      'devices/cuff/device.yaml',
      'devices/cuff/left/parts/shell.stl',
      'devices/cuff/left/parts/strap.stl',
      manifestPath,
      'registry.yaml',
    ]);
    expect(repo.git('log', '-1', '--format=%s')).toBe('cuff/left: revision A');
    expect(await record(repo)).toMatchObject({ kind: 'unchanged', entry: { letter: 'A' } });
  });

  it('says what changed since the letter before, and commits the folder alone', async () => {
    const repo = cuffRepository();
    await record(repo);
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 21));
    repo.write('devices/cuff/left/parts/clip.stl', boxFile(5, 6, 7));
    repo.write('devices/cuff/left/source/shell.step', 'model');
    repo.write(
      manifestPath,
      manifestOf(repo)
        .replace('material: petg', 'material: tpu')
        .replace('  - id: strap', '  - id: clip\n    mesh: parts/clip.stl\n  - id: strap'),
    );
    repo.write('other.txt', 'not ours');
    repo.git('add', 'other.txt');
    const outcome = await record(repo, { summary: 'Deeper shell.', by: 'Kim Example' });
    expect(outcome).toMatchObject({ kind: 'recorded', entry: { letter: 'B', by: 'Kim Example' } });
    if (outcome.kind !== 'recorded') return;
    expect(outcome.entry.changes).toEqual([
      'Deeper shell.',
      'clip: added',
      'shell: scaled by 1, 1, 1.05 along x, y, z',
      'shell: material: petg → tpu',
      'source/shell.step: added',
    ]);
    expect(repo.git('status', '--porcelain')).toBe('A  other.txt');
    expect(repo.git('log', '-1', '--format=%B')).toContain('- shell: scaled by 1, 1, 1.05');
    const history = stateHistory(repo.folder);
    const first = await revisionContent(await read(repo), 'cuff/left', 'A', history);
    expect(first.found && first.content.refs.length).toBe(2);
    await history.close();
  }, 60_000);

  it('writes nothing for a dry run', async () => {
    const repo = cuffRepository();
    const start = repo.commit('start');
    expect(await record(repo, { dryRun: true })).toMatchObject({ kind: 'dry-run', entry: { letter: 'A' } });
    expect(repo.git('rev-parse', 'HEAD')).toBe(start);
    expect(repo.git('status', '--porcelain')).toBe('');
  });

  it('refuses when a check fails, with what it found', async () => {
    const repo = cuffRepository();
    const finding = {
      code: 'mesh-open',
      severity: 'error',
      text: 'Open.',
      remedy: 'Close it.',
      file: 'x',
      line: null,
      column: null,
    } as const;
    expect(await record(repo, { check: () => Promise.resolve([finding]) })).toEqual({
      kind: 'refused',
      address: 'cuff/left',
      findings: [finding],
    });
    repo.write(manifestPath, leftManifest.replace('license:', 'licence:'));
    const outcome = await record(repo);
    expect(outcome).toMatchObject({ kind: 'refused', findings: [{ code: 'unknown-key', line: 4 }] });
    expect(() => repo.git('rev-parse', '--verify', 'HEAD')).toThrow();
  });

  it('refuses to give a content a second letter, and to rewrite the log', async () => {
    const repo = cuffRepository();
    await record(repo);
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 21));
    await record(repo);
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 20));
    await expect(record(repo)).rejects.toMatchObject({ code: 'content-recorded' });
    repo.write(manifestPath, manifestOf(repo).replace('letter: A', 'letter: C'));
    await expect(record(repo)).rejects.toMatchObject({ code: 'revisions-diverge' });
    repo.git('checkout', '-q', '--', '.');
    repo.write(
      manifestPath,
      `${manifestOf(repo)}  - {letter: C, digest: 'sha256:${'0'.repeat(64)}', date: 2026-01-01}\n`,
    );
    await expect(record(repo)).rejects.toMatchObject({ code: 'revision-not-committed' });
  }, 60_000);

  it('commits an entry that was written by hand for the present content', async () => {
    const repo = cuffRepository();
    const start = repo.commit('start');
    const { digest } = await standing(await read(repo), 'cuff/left');
    repo.write(
      manifestPath,
      `${leftManifest}revisions:\n  - {letter: A, digest: '${digest}', date: 2026-01-01}\n`,
    );
    expect(await record(repo)).toMatchObject({ kind: 'completed', entry: { letter: 'A' }, notes: [] });
    expect(repo.git('rev-parse', 'HEAD~1')).toBe(start);
    expect(repo.git('status', '--porcelain')).toBe('');
  });

  it('drops files that are gone, keeps hidden ones and modes, and takes any name literally', async () => {
    const repo = cuffRepository();
    repo.write('devices/cuff/left/.keep', 'hidden');
    repo.write('devices/cuff/left/source/run.sh', 'x');
    repo.git('add', '-A');
    repo.git('update-index', '--chmod=+x', 'devices/cuff/left/source/run.sh');
    repo.git('commit', '-q', '-m', 'start');
    repo.git('rm', '-q', '--cached', 'devices/cuff/left/parts/strap.stl');
    repo.write('devices/cuff/left/source/:(top) [a]*?.txt', 'odd');
    repo.write('devices/cuff/left/source/run.sh', 'y');
    const { unlinkSync } = await import('node:fs');
    unlinkSync(path.join(repo.folder, 'devices/cuff/left/parts/strap.stl'));
    expect(await record(repo)).toMatchObject({ kind: 'recorded' });
    expect(
      repo.git('-c', 'core.quotePath=false', 'diff', '--name-status', 'HEAD~1', 'HEAD').split('\n'),
    ).toEqual([
      'D\tdevices/cuff/left/parts/strap.stl',
      'A\tdevices/cuff/left/source/:(top) [a]*?.txt',
      'M\tdevices/cuff/left/source/run.sh',
      `M\t${manifestPath}`,
    ]);
    expect(repo.git('ls-tree', 'HEAD', 'devices/cuff/left/source/run.sh')).toMatch(/^100755 /);
  });

  it('refuses files that change while they are recorded', async () => {
    const repo = cuffRepository();
    const start = repo.commit('start');
    const state = await read(repo);
    const changing = recordVariant(state, 'cuff/left', {
      date: '2026-03-14',
      check: async () => {
        // Hashed, and not yet stored.
        for (const ref of state.variants.get('cuff/left')?.files ?? []) await state.files.sha256(ref);
        repo.write('devices/cuff/left/parts/shell.stl', boxFile(1, 2, 3));
        return [];
      },
    });
    await expect(changing).rejects.toMatchObject({ code: 'changed-meanwhile' });
    expect(repo.git('rev-parse', 'HEAD')).toBe(start);
  });

  it('leaves a manifest alone that was edited meanwhile', async () => {
    const repo = cuffRepository();
    const edited = `${leftManifest}# edited\n`;
    const before = record(repo, {
      at: point => {
        if (point === 'committed') writeFileSync(path.join(repo.folder, manifestPath), edited);
      },
    });
    await expect(before).rejects.toMatchObject({ code: 'changed-meanwhile' });
    repo.write(manifestPath, leftManifest);
    const after = await record(repo, {
      at: point => {
        if (point === 'branch-moved') writeFileSync(path.join(repo.folder, manifestPath), edited);
      },
    });
    expect(after).toMatchObject({ kind: 'recorded', notes: [expect.stringContaining('edited meanwhile')] });
    expect(manifestOf(repo)).toBe(edited);
    // The comment is no content: recording again only completes the manifest.
    expect(await record(repo)).toMatchObject({ kind: 'completed', entry: { letter: 'A' } });
    expect(manifestOf(repo)).toContain('# edited');
  });
});

describe('letters of other branches', () => {
  const shell = (repo: TemporaryRepository, height: number) =>
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, height));

  it('are skipped, fetched ones too, and the reason is told', async () => {
    const repo = cuffRepository();
    await record(repo);
    repo.git('switch', '-q', '-c', 'side');
    shell(repo, 21);
    await record(repo);
    const side = repo.git('rev-parse', 'HEAD');
    // As a fetch leaves it: no branch of one's own.
    repo.git('update-ref', 'refs/remotes/friend/side', side);
    repo.git('switch', '-q', 'main');
    repo.git('branch', '-q', '-D', 'side');
    shell(repo, 22);
    expect(await record(repo, { dryRun: true })).toMatchObject({ kind: 'dry-run', entry: { letter: 'C' } });
    await expect(record(repo, { letter: 'B' })).rejects.toMatchObject({ code: 'letter-taken' });
    expect(await record(repo)).toMatchObject({
      kind: 'recorded',
      entry: { letter: 'C' },
      notes: [`B was skipped: it means other content in commit ${side.slice(0, 12)}, on friend/side.`],
    });
    // Now nothing is in two places, so both can be merged.
    expect((await revisionsOf(repo)).map(entry => entry.letter)).toEqual(['A', 'C']);
  }, 60_000);

  it('are the same here for the same content', async () => {
    const repo = cuffRepository();
    await record(repo);
    repo.git('switch', '-q', '-c', 'side');
    shell(repo, 21);
    await record(repo);
    shell(repo, 22);
    await record(repo);
    repo.git('switch', '-q', 'main');
    shell(repo, 22);
    expect(await record(repo)).toMatchObject({
      kind: 'recorded',
      entry: { letter: 'C' },
      notes: [expect.stringContaining('is recorded as C')],
    });
  }, 60_000);

  it('count under the name that the folder had, but not those of another variant', async () => {
    const repo = cuffRepository();
    await record(repo);
    repo.git('switch', '-q', '-c', 'side');
    shell(repo, 21);
    await record(repo);
    repo.git('switch', '-q', 'main');
    repo.git('mv', 'devices/cuff/left', 'devices/cuff/left-small');
    repo.commit('renamed');
    repo.write('devices/cuff/left-small/parts/shell.stl', boxFile(40, 30, 23));
    repo.write('devices/cuff/right/variant.yaml', leftManifest.replace('left', 'right'));
    repo.write('devices/cuff/right/parts/shell.stl', boxFile(41, 30, 20));
    repo.write('devices/cuff/right/parts/strap.stl', boxFile(61, 10, 2));
    const state = await read(repo);
    const letters: string[] = [];
    for (const address of ['cuff/left-small', 'cuff/right']) {
      const outcome = await recordVariant(state, address, { date: '2026-03-14' });
      letters.push(outcome.kind === 'recorded' ? outcome.entry.letter : outcome.kind);
    }
    expect(letters).toEqual(['C', 'A']);
  }, 60_000);
});

describe('a letter that is asked for', () => {
  it('is given where it follows, and not a second one for the same content', async () => {
    const repo = cuffRepository();
    expect(await record(repo, { letter: 'C' })).toMatchObject({ entry: { letter: 'C' } });
    expect(await record(repo, { letter: 'C' })).toMatchObject({ kind: 'unchanged' });
    await expect(record(repo, { letter: 'D' })).rejects.toMatchObject({ code: 'content-recorded' });
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 21));
    await expect(record(repo, { letter: 'B' })).rejects.toMatchObject({ code: 'letter-order' });
    expect(await record(repo)).toMatchObject({ entry: { letter: 'D' } });
  }, 60_000);
});

describe('the date', () => {
  it("is not before the previous letter's, unless an older state is imported, which the log then says", async () => {
    const repo = cuffRepository();
    await record(repo);
    const before = repo.git('rev-parse', 'HEAD');
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 21));
    const old = { date: '2019-05-01', dateChosen: true };
    await expect(record(repo, old)).rejects.toMatchObject({ code: 'date-order' });
    expect(repo.git('rev-parse', 'HEAD')).toBe(before);
    const outcome = await record(repo, { ...old, anyDate: true });
    expect(outcome).toMatchObject({
      kind: 'recorded',
      entry: {
        date: '2019-05-01',
        changes: expect.arrayContaining([expect.stringContaining('dated before A (2026-03-14)')]) as string[],
      },
    });
  }, 60_000);
});

describe('two at once', () => {
  it('of one variant: one wins, the other is told, and nothing is lost', async () => {
    const repo = cuffRepository();
    repo.commit('start');
    const outcomes = await Promise.allSettled([record(repo), record(repo, { by: 'Kim Example' })]);
    const told = outcomes.map(outcome =>
      outcome.status === 'fulfilled' ? outcome.value.kind : (outcome.reason as { code: string }).code,
    );
    expect(told.filter(word => word === 'recorded')).toHaveLength(1);
    // Whoever comes late enough finds it done.
    expect(told.find(word => word !== 'recorded')).toMatch(
      /^(recorded-meanwhile|changed-meanwhile|completed|unchanged)$/,
    );
    expect(repo.git('rev-list', '--count', 'HEAD')).toBe('2');
    expect(await revisionsOf(repo)).toHaveLength(1);
    expect(repo.git('status', '--porcelain')).toBe('');
  });

  it('of one variant and something else: recorded upon it; what touches the same folder is told', async () => {
    const repo = cuffRepository();
    repo.commit('start');
    let before = true;
    const first = await record(repo, {
      at: point => {
        if (point !== 'stored' || !before) return;
        before = false;
        repo.git('commit', '-q', '--allow-empty', '-m', 'unrelated');
      },
    });
    expect(first).toMatchObject({ kind: 'recorded' });
    expect(repo.git('log', '--format=%s')).toBe('cuff/left: revision A\nunrelated\nstart');

    repo.write('devices/cuff/left/parts/shell.stl', boxFile(40, 30, 22));
    let quick = true;
    const second = record(repo, {
      at: point => {
        if (point !== 'stored' || !quick) return;
        quick = false;
        repo.git('add', '-A');
        repo.git('commit', '-q', '-m', 'the same folder');
      },
    });
    await expect(second).rejects.toMatchObject({ code: 'recorded-meanwhile' });
    expect(await revisionsOf(repo)).toHaveLength(1);
  }, 60_000);

  it('of two variants: both are recorded', async () => {
    const repo = cuffRepository();
    repo.write('devices/cuff/right/variant.yaml', leftManifest.replace('left', 'right'));
    repo.write('devices/cuff/right/parts/shell.stl', boxFile(41, 30, 20));
    repo.write('devices/cuff/right/parts/strap.stl', boxFile(61, 10, 2));
    repo.commit('start');
    const state = await read(repo);
    const outcomes = await Promise.all(
      ['cuff/left', 'cuff/right'].map(address => recordVariant(state, address, { date: '2026-03-14' })),
    );
    expect(outcomes.map(outcome => outcome.kind)).toEqual(['recorded', 'recorded']);
    expect(repo.git('log', '--format=%s').split('\n').sort()).toEqual([
      'cuff/left: revision A',
      'cuff/right: revision A',
      'start',
    ]);
    expect(repo.git('fsck', '--strict', '--no-dangling')).toBe('');
  });
});

describe('an interrupted recording', () => {
  const points: readonly RecordPoint[] = [
    'begun',
    'stored',
    'committed',
    'manifest-beside',
    'branch-moved',
    'manifest-written',
    'done',
  ];
  it.each(points)(
    'at "%s" leaves the history old or new, and recording again makes it whole',
    async point => {
      const repo = cuffRepository();
      const start = repo.commit('start');
      await expect(
        record(repo, {
          at: reached => {
            if (reached === point) throw new Error('interrupted');
          },
        }),
      ).rejects.toThrow('interrupted');
      const moved = repo.git('rev-parse', 'HEAD') !== start;
      expect(moved).toBe(points.indexOf(point) >= points.indexOf('branch-moved'));
      const again = await record(repo);
      const expected = !moved ? 'recorded' : point === 'branch-moved' ? 'completed' : 'unchanged';
      expect(again.kind).toBe(expected);
      expect(await revisionsOf(repo)).toHaveLength(1);
      expect(repo.git('rev-list', '--count', 'HEAD')).toBe('2');
      expect(await standing(await read(repo), 'cuff/left')).toMatchObject({ status: 'recorded' });
      expect(repo.git('status', '--porcelain')).toBe('');
      expect(readdirSync(path.join(repo.folder, 'devices/cuff/left')).sort()).toEqual([
        'parts',
        'variant.yaml',
      ]);
    },
  );
});

import { cpSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openRepository } from '../git/repository.ts';
import { portableObjects } from '../git/portable-objects.ts';
import { variantDigest } from '../state/digest.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { boxFile, leftManifest, cuffRepository } from '../testing/cuff-repository.ts';
import {
  gitIn,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { revisionContent, stateHistory } from './content-at.ts';
import { openHistory, type Found } from './history.ts';

afterAll(removeTemporaryFolders);

/** Writes the present content's digest into the manifest under a letter; the caller commits. */
async function log(repo: TemporaryRepository, letter: string, folder = 'left'): Promise<string> {
  const state = await readRegistry(workingFiles(repo.folder));
  const digest = await variantDigest(state, `cuff/${folder}`);
  const text = state.variants.get(`cuff/${folder}`)?.document.text ?? '';
  const entry = `  - {letter: ${letter}, digest: '${digest}', date: 2026-01-02}\n`;
  const file = `devices/cuff/${folder}/variant.yaml`;
  repo.write(file, text.includes('revisions:') ? text + entry : `${text}revisions:\n${entry}`);
  return digest;
}

async function recorded(repo: TemporaryRepository, letter: string, folder = 'left') {
  const digest = await log(repo, letter, folder);
  return { letter, digest, commit: repo.commit(`revision ${letter}`) };
}

const changeShell = (repo: TemporaryRepository, height: number, folder = 'left') =>
  repo.write(`devices/cuff/${folder}/parts/shell.stl`, boxFile(40, 30, height));

async function find(folder: string, revision: { letter: string; digest: string }): Promise<Found> {
  const repository = await openRepository(folder);
  try {
    return await (await openHistory(repository)).find(revision);
  } finally {
    await repository.close();
  }
}

const placeOf = (found: Found) =>
  found.found ? [found.content.commit, found.content.folder] : [found.reason];

describe('history', () => {
  it('finds each letter at the commit that recorded it, not at later ones', async () => {
    const repo = cuffRepository();
    const a = await recorded(repo, 'A');
    changeShell(repo, 21);
    repo.commit('work');
    const b = await recorded(repo, 'B');
    repo.write('devices/cuff/device.yaml', 'kinprint: device/1\ntitle: Cuff\npurpose: Else.\n');
    repo.commit('something else');
    changeShell(repo, 22);
    repo.commit('work');
    expect(placeOf(await find(repo.folder, a))).toEqual([a.commit, 'devices/cuff/left']);
    expect(placeOf(await find(repo.folder, b))).toEqual([b.commit, 'devices/cuff/left']);
    const state = await readRegistry(workingFiles(repo.folder));
    const history = stateHistory(repo.folder);
    const found = await revisionContent(state, 'cuff/left', 'B', history);
    if (!found.found) throw new Error(found.text);
    const shell = found.content.refs.find(ref => ref.path.endsWith('shell.stl'))!;
    expect(Buffer.from(await found.content.files.bytes(shell))).toEqual(Buffer.from(boxFile(40, 30, 21)));
    await history.close();
  }, 60_000);

  it('finds letters of branches, merged and not, and under the names that folders had', async () => {
    const repo = cuffRepository();
    const a = await recorded(repo, 'A');
    repo.git('switch', '-q', '-c', 'side');
    changeShell(repo, 23);
    const b = await recorded(repo, 'B');
    repo.git('switch', '-q', 'main');
    repo.git('mv', 'devices/cuff/left', 'devices/cuff/left-small');
    repo.commit('renamed');
    changeShell(repo, 24, 'left-small');
    const other = await recorded(repo, 'B', 'left-small');
    expect(placeOf(await find(repo.folder, a))).toEqual([a.commit, 'devices/cuff/left']);
    expect(placeOf(await find(repo.folder, b))).toEqual([b.commit, 'devices/cuff/left']);
    expect(placeOf(await find(repo.folder, other))).toEqual([other.commit, 'devices/cuff/left-small']);
    repo.git('merge', '-q', '-s', 'ours', '-m', 'merged', 'side');
    repo.git('branch', '-q', '-D', 'side');
    expect(placeOf(await find(repo.folder, b))).toEqual([b.commit, 'devices/cuff/left']);
  }, 60_000);

  it('finds the last letter of a squash, and says of the others that no commit holds them', async () => {
    const repo = cuffRepository();
    repo.commit('start');
    repo.git('switch', '-q', '-c', 'work');
    changeShell(repo, 25);
    const a = await recorded(repo, 'A');
    changeShell(repo, 26);
    const b = await recorded(repo, 'B');
    repo.git('switch', '-q', 'main');
    repo.git('merge', '-q', '--squash', 'work');
    const squash = repo.commit('squashed');
    repo.git('branch', '-q', '-D', 'work');
    expect(placeOf(await find(repo.folder, b))).toEqual([squash, 'devices/cuff/left']);
    expect(placeOf(await find(repo.folder, a))).toEqual(['not-in-history']);
  }, 60_000);

  it('names a shallow clone, and a partial one, as the reason', async () => {
    const repo = cuffRepository();
    const a = await recorded(repo, 'A');
    changeShell(repo, 27);
    const b = await recorded(repo, 'B');
    const shallow = path.join(temporaryFolder(), 'shallow');
    gitIn('/', 'clone', '-q', '--depth', '1', `file://${repo.folder}`, shallow);
    expect(placeOf(await find(shallow, a))).toEqual(['shallow']);
    expect(placeOf(await find(shallow, b))).toEqual([b.commit, 'devices/cuff/left']);
    repo.git('config', 'uploadpack.allowFilter', 'true');
    const partial = path.join(temporaryFolder(), 'partial');
    gitIn('/', 'clone', '-q', '--filter=blob:none', `file://${repo.folder}`, partial);
    expect(placeOf(await find(partial, a))).toEqual(['unreadable']);
  }, 60_000);

  it('counts large-file pointers with what they name', async () => {
    const repo = cuffRepository();
    const oid = 'ab'.repeat(32);
    repo.write(
      'devices/cuff/left/parts/strap.stl',
      `version https://git-lfs.github.com/spec/v1\noid sha256:${oid}\nsize 9000\n`,
    );
    const a = await recorded(repo, 'A');
    repo.write('devices/cuff/left/parts/strap.stl', boxFile(60, 10, 3));
    repo.commit('work');
    const found = await find(repo.folder, a);
    expect(placeOf(found)).toEqual([a.commit, 'devices/cuff/left']);
    if (!found.found) return;
    const strap = found.content.refs.find(ref => ref.path.endsWith('strap.stl'));
    expect(strap).toMatchObject({ size: 9000, problem: { code: 'lfs-pointer' } });
  }, 60_000);

  it('reads every manifest as the portable object store does', async () => {
    const repo = cuffRepository();
    await recorded(repo, 'A');
    changeShell(repo, 28);
    await recorded(repo, 'B');
    repo.git('gc', '-q');
    const repository = await openRepository(repo.folder);
    const portable = portableObjects(path.join(repo.folder, '.git'));
    const { sweepManifests } = await import('./sweep.ts');
    for (const { blob } of (await sweepManifests(repository)).versions) {
      const [one, two] = [await repository.objects.read(blob), await portable.read(blob)];
      if (one.state !== 'found' || two.state !== 'found') throw new Error('missing');
      const bytes = [one, two].map(({ content }) => {
        const into = new Uint8Array(content.size);
        content.read(0, into);
        return Buffer.from(into).toString();
      });
      expect(bytes[0]).toBe(bytes[1]);
      expect(bytes[0]).toContain(leftManifest);
    }
    await repository.close();
  }, 60_000);
});

describe('revisionContent', () => {
  it('looks where the variant lies first, in a registry that is a folder of its repository, too', async () => {
    const made = cuffRepository();
    const repo = temporaryRepository();
    cpSync(path.join(made.folder, 'devices'), path.join(repo.folder, 'group/devices'), { recursive: true });
    repo.write('group/registry.yaml', 'kinprint: registry/1\nname: Lending group\n');
    const root = path.join(repo.folder, 'group');
    const state = async () => readRegistry(workingFiles(root));
    const digest = await variantDigest(await state(), 'cuff/left');
    const file = 'group/devices/cuff/left/variant.yaml';
    repo.write(file, `${leftManifest}revisions:\n  - {letter: A, digest: '${digest}', date: 2026-01-02}\n`);
    repo.commit('revision A');
    // The same content under another name, later; then both change.
    const of = (name: string) => path.join(root, 'devices/cuff', name);
    cpSync(of('left'), of('right'), { recursive: true });
    const second = repo.commit('copied');
    for (const name of ['left', 'right'])
      repo.write(`group/devices/cuff/${name}/parts/shell.stl`, boxFile(40, 30, 33));
    const history = stateHistory(root);
    expect(placeOf(await revisionContent(await state(), 'cuff/right', 'A', history))).toEqual([
      second,
      'group/devices/cuff/right',
    ]);
    expect(await history.gaps()).toEqual([]);
    await history.close();
  }, 60_000);

  it('takes the present content where it is the one recorded, else history, and names what is wrong', async () => {
    const repo = cuffRepository();
    const a = await recorded(repo, 'A');
    changeShell(repo, 29);
    const b = await recorded(repo, 'B');
    const state = await readRegistry(workingFiles(repo.folder));
    const history = stateHistory(repo.folder);
    const now = await revisionContent(state, 'cuff/left', 'B', history);
    expect(now.found && now.content.files).toBe(state.files);
    expect(placeOf(await revisionContent(state, 'cuff/left', 'A', history))).toEqual([
      a.commit,
      'devices/cuff/left',
    ]);
    expect(b.letter).toBe('B');
    await expect(revisionContent(state, 'cuff/left', 'C', history)).rejects.toMatchObject({
      code: 'letter-unknown',
      remedy: 'Name one that is recorded: A, B.',
    });
    await expect(revisionContent(state, 'cuff/lefd', 'A', history)).rejects.toMatchObject({
      code: 'variant-unknown',
      remedy: expect.stringContaining("Did you mean 'cuff/left'?") as string,
    });
    await history.close();
  }, 60_000);
});

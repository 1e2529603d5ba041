import { lstatSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../../defaults.ts';
import { readHead, readHeadAgain, type Head } from '../../git/head.ts';
import { storeFiles, storePlaced, storePlain, storeText, type Placed } from '../../git/store-files.ts';
import {
  authorName,
  changedTree,
  makeCommit,
  branchBusy,
  moveBranch,
  refreshIndex,
  storedBelow,
  type StoredFile,
} from '../../git/write-commit.ts';
import { deviceFile, registryFile, variantFile } from '../../state/registry-files.ts';
import type { AdoptPlan } from '../plan/types.ts';
import type { SourceState } from '../source/types.ts';
import { deviceText } from './documents.ts';
import { readyLetters, type ReadyLetter } from './letters.ts';
import { adoptMessage } from './messages.ts';
import { clearAbandoned, openStage, type Stage, type StagedFile } from './stage.ts';

/** Where an adoption can be interrupted, in this order. */
export type AdoptPoint = 'begun' | 'copied' | 'stored' | 'committed' | 'branch-moved' | 'appeared' | 'done';

export interface WriteOptions {
  /** Today, for a folder without a history. ISO 8601. */
  readonly today: string;
  /** Write down how authors can be reached, as git gives it. */
  readonly contacts?: boolean;
  readonly progress?: (text: string) => void;
  /** For tests: called when a point is reached; what it throws ends the adoption there. */
  readonly at?: (point: AdoptPoint) => void;
}

/** What was written. */
export interface Adopted {
  /** The newest commit. */
  readonly commit: string;
  readonly commits: number;
  readonly revisions: readonly {
    readonly address: string;
    readonly letter: string;
    readonly digest: string;
  }[];
  /** What the user should know. */
  readonly notes: readonly string[];
}

/**
 * Writes a plan into a registry: one commit for each state of the source that brings letters, oldest first, upon the
 * branch that is checked out; the branch is moved last, by compare and swap, and then the folder appears. Killed
 * anywhere before that, the registry is as it was.
 *
 * @param states those that the plan speaks of
 * @throws InputError `device-exists`, or what keeps the registry from being committed to; nothing is changed then
 */
export async function writePlan(
  root: string,
  plan: AdoptPlan,
  states: readonly SourceState[],
  options: WriteOptions,
): Promise<Adopted> {
  const reach = options.at ?? (() => undefined);
  const progress = options.progress ?? (() => undefined);
  const firstHead = await readHead(root);
  clearAbandoned(firstHead.gitFolder);
  await requireFree(root, firstHead, plan.device.id);
  const by = await authorName(root);
  const stage = openStage(firstHead.gitFolder, path.join(root, 'devices', plan.device.id));
  try {
    reach('begun');
    progress('copying files');
    const ready = await readyLetters(plan, states, stage, {
      by,
      today: options.today,
      contacts: options.contacts ?? false,
    });
    const device = deviceText(plan);
    reach('copied');
    const groups = byState(ready.flat());
    const store = await storeAll(root, firstHead, plan, groups.flat(), device);
    placeLast(stage, ready, device);
    reach('stored');

    let head = firstHead;
    for (let tries = 0; tries < registryDefaults.commitTries; tries++) {
      progress(`making ${groups.length} commits`);
      const made = await makeCommits(root, head, plan, groups, store);
      reach('committed');
      await requireFree(root, head, plan.device.id);
      if (await moveBranch(root, head, made.commit, `kinprint adopt: ${plan.device.id}`)) {
        reach('branch-moved');
        const notes: string[] = [];
        if (!stage.appear())
          notes.push(
            `devices/${plan.device.id} was made by somebody else meanwhile and was left alone; what was adopted is in the history: git checkout HEAD -- devices/${plan.device.id}`,
          );
        reach('appeared');
        if (!(await refreshIndex(root, { put: made.files, drop: [] })))
          notes.push("git's index is in use by another program; git status may show the folder as changed.");
        reach('done');
        return {
          commit: made.commit,
          commits: groups.length,
          revisions: ready.flat().map(({ variant, entry }) => ({
            address: `${plan.device.id}/${variant.id}`,
            letter: entry.letter,
            digest: entry.digest,
          })),
          notes,
        };
      }
      head = await readHeadAgain(root, firstHead, 'Nothing was adopted.', 'Adopt');
    }
    throw branchBusy(root, firstHead, 'Nothing was adopted.');
  } finally {
    stage.remove();
  }
}

/** Nothing of that name may be there, in the working copy or in the history that is built on. */
async function requireFree(root: string, head: Head, device: string): Promise<void> {
  const folder = `devices/${device}`;
  const here = lstatSync(path.join(root, folder), { throwIfNoEntry: false }) !== undefined;
  if (!here && (await storedBelow(root, head.commit, head.prefix + folder)).length === 0) return;
  throw new InputError(
    'device-exists',
    here
      ? `There is a device '${device}' already.`
      : `There is a device '${device}' in the last commit, though not in the working copy.`,
    here
      ? 'Nothing is overwritten. Name another one with --device.'
      : `Bring it back with git checkout HEAD -- ${folder}, or name another one with --device.`,
    { file: folder },
  );
}

/** Letters of one state together, oldest first. */
function byState(letters: readonly ReadyLetter[]): ReadyLetter[][] {
  const groups = new Map<number, ReadyLetter[]>();
  for (const letter of letters)
    groups.set(letter.plan.state, [...(groups.get(letter.plan.state) ?? []), letter]);
  return [...groups].sort(([a], [b]) => a - b).map(([, group]) => group);
}

/** Ids of everything in the object store. */
interface Store {
  /** Of a file of a variant's folder, by where it goes and what it holds. */
  file(place: string, file: StagedFile): string;
  readonly device: string;
  /** Files of the registry's own that the branch does not have yet: nothing can be read without them. */
  readonly companions: readonly StoredFile[];
}

async function storeAll(
  root: string,
  head: Head,
  plan: AdoptPlan,
  letters: readonly ReadyLetter[],
  device: string,
): Promise<Store> {
  const keyOf = (place: string, file: string): string => `${place}\0${file}`;
  const placed = new Map<string, Placed>();
  for (const { variant, files } of letters)
    for (const [to, { file }] of files) {
      const place = placeOf(plan.device.id, variant.id, to);
      placed.set(keyOf(place, file), { place, file });
    }
  const ids = await storePlaced(root, head, [...placed.values()]);
  const known = new Map([...placed.keys()].map((key, k) => [key, ids[k]]));
  // Manifests are always themselves: nothing can be read without them.
  const manifests = await storePlain(
    root,
    letters.map(({ manifest }) => manifest.file),
  );

  const companions: StoredFile[] = [];
  for (const name of [registryFile, '.gitattributes']) {
    const isHere = lstatSync(path.join(root, name), { throwIfNoEntry: false })?.isFile() ?? false;
    if (!isHere || (await storedBelow(root, head.commit, head.prefix + name)).length > 0) continue;
    const [id] = await storeFiles(root, head, [name]);
    companions.push({ path: head.prefix + name, id, mode: '100644' });
  }
  return {
    file(place, { file }) {
      const id = manifests.get(file) ?? known.get(keyOf(place, file));
      if (id === undefined) throw new Error('A file was not stored.');
      return id;
    },
    device: await storeText(root, device),
    companions,
  };
}

function placeOf(device: string, variant: string, to: string): string {
  return `devices/${device}/${variant}/${to}`;
}

async function makeCommits(
  root: string,
  head: Head,
  plan: AdoptPlan,
  groups: readonly (readonly ReadyLetter[])[],
  store: Store,
): Promise<{ readonly commit: string; readonly files: readonly StoredFile[] }> {
  const folder = `${head.prefix}devices/${plan.device.id}`;
  const device: StoredFile = { path: `${folder}/${deviceFile}`, id: store.device, mode: '100644' };
  const standing = new Map<string, readonly StoredFile[]>();
  let commit = head.commit;
  for (const [i, letters] of groups.entries()) {
    const put: StoredFile[] = i === 0 ? [...store.companions, device] : [];
    const drop: string[] = [];
    for (const letter of letters) {
      const files = filesOf(letter, head.prefix, plan.device.id, store);
      const kept = new Set(files.map(file => file.path));
      drop.push(
        ...(standing.get(letter.variant.id) ?? []).map(file => file.path).filter(file => !kept.has(file)),
      );
      put.push(...files);
      standing.set(letter.variant.id, files);
    }
    const below: Head = { ...head, commit };
    commit = await makeCommit(
      root,
      below,
      await changedTree(root, below, { put, drop }),
      adoptMessage(plan, letters),
    );
  }
  if (commit === null) throw new Error('A plan without letters was to be written.');
  return { commit, files: [...store.companions, device, ...[...standing.values()].flat()] };
}

function filesOf(
  { variant, manifest, files }: ReadyLetter,
  prefix: string,
  device: string,
  store: Store,
): StoredFile[] {
  return [[variantFile, manifest] as const, ...files].map(([to, staged]): StoredFile => {
    const place = placeOf(device, variant.id, to);
    return { path: prefix + place, id: store.file(place, staged), mode: '100644' };
  });
}

/** The folder as the last letters have it. */
function placeLast(stage: Stage, ready: readonly (readonly ReadyLetter[])[], device: string): void {
  stage.place(deviceFile, device);
  for (const letters of ready) {
    const last = letters.at(-1);
    if (last === undefined) continue;
    stage.place(`${last.variant.id}/${variantFile}`, last.manifest);
    for (const [to, staged] of last.files) stage.place(`${last.variant.id}/${to}`, staged);
  }
}

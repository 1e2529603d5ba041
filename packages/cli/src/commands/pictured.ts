import { statSync } from 'node:fs';
import path from 'node:path';
import { InputError, type Unit } from '@kinprint/mesh';
import {
  cachedReader,
  cacheFolder,
  hashMemory,
  namedParts,
  namedPlacements,
  openCache,
  openRepository,
  parseRevisionSpec,
  readRegistry,
  snapshotFromGit,
  snapshotFromPath,
  stateHistory,
  workingFiles,
  type NamedPlacement,
  type Snapshot,
  type SnapshotEntry,
} from '@kinprint/registry';
import type { Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import type { PictureFlags } from './picture-flags.ts';
import { tellUnusable } from './tell-unusable.ts';

/** A mesh to be drawn. */
export interface Pictured {
  readonly name: string;
  readonly entry: SnapshotEntry;
  /** What its numbers are in; null where nobody says. */
  readonly unit: Unit | null;
}

/** Finds what is named; what it opened stays open until `close`. */
export interface OpenPictured {
  readonly find: (name: string) => Promise<readonly Pictured[]>;
  /** Where the parts of a named variant are placed; none of what is no variant. */
  readonly placements: (name: string) => Promise<readonly NamedPlacement[]>;
  readonly close: () => Promise<void>;
}

/** Names are files or parts of the registry; with --repo, files of a git revision. */
export async function openPictured(flags: PictureFlags, io: Io): Promise<OpenPictured> {
  return flags.repo === undefined
    ? fromFilesAndRegistry(flags, io)
    : fromRepository(path.resolve(io.cwd, flags.repo), flags);
}

async function fromRepository(folder: string, { unit }: PictureFlags): Promise<OpenPictured> {
  const repository = await openRepository(folder);
  const open: Snapshot[] = [];
  return {
    async find(name) {
      const [spec, second] = parseRevisionSpec(name);
      const snapshot = second === undefined ? await snapshotFromGit(repository, spec) : null;
      if (snapshot !== null) open.push(snapshot);
      if (snapshot?.kind !== 'file' || snapshot.entries.length !== 1)
        throw new InputError(
          'mesh-needed',
          `'${name}' is no single file of a revision.`,
          'Name it as REV:path.',
        );
      return [{ name, entry: snapshot.entries[0], unit: asked(unit) }];
    },
    placements: () => Promise.resolve([]),
    async close() {
      for (const snapshot of open) await snapshot.close();
      await repository.close();
    },
  };
}

function fromFilesAndRegistry(flags: PictureFlags, io: Io): OpenPictured {
  let registry: ReturnType<typeof openRegistry> | null = null;
  return {
    async find(name) {
      const place = path.resolve(io.cwd, name);
      if (statSync(place, { throwIfNoEntry: false })?.isFile() === true) {
        const snapshot = snapshotFromPath(place);
        return [{ name, entry: snapshot.entries[0], unit: asked(flags.unit) }];
      }
      if (/\.\w+$/.test(name))
        throw new InputError('file-not-found', `There is no file '${name}'.`, 'Check the name.');
      if (flags.unit !== undefined)
        throw new InputError(
          'unit-of-part',
          'The unit of a registered part stands in its manifest.',
          'Leave out --unit, or name a mesh file.',
        );
      registry ??= openRegistry(flags.registry, io);
      const { state, history } = registry;
      return namedParts(await state, history, name);
    },
    async placements(name) {
      if (registry === null) return []; // a file
      const { state, history } = registry;
      return namedPlacements(await state, history, name);
    },
    async close() {
      await registry?.close();
    },
  };
}

function openRegistry(named: string | undefined, io: Io) {
  const root = registryFolder(named, io.cwd);
  const cache = openCache(cacheFolder());
  const memory = hashMemory(cache);
  const history = stateHistory(root, memory);
  const state = readRegistry(workingFiles(root, memory), cachedReader(cache)).then(read => {
    tellUnusable(read, io);
    return read;
  });
  return {
    state,
    history,
    close: async () => {
      cache.flush();
      await history.close();
    },
  };
}

function asked(unit: string | undefined): Unit | null {
  return (unit as Unit | undefined) ?? null;
}

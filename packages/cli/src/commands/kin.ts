import { statSync } from 'node:fs';
import path from 'node:path';
import { InputError, type Unit } from '@kinprint/mesh';
import {
  cachedReader,
  cacheFolder,
  hashMemory,
  kinOf,
  kinSubjects,
  openCache,
  openSources,
  readRegistry,
  snapshotFromPath,
  stateHistory,
  workingFiles,
  type KinSource,
  type KinSubject,
  type RegistryState,
} from '@kinprint/registry';
import { kinJson, kinText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import { progressOf } from '../progress.ts';
import { tellGaps } from './tell-gaps.ts';
import { tellUnusable } from './tell-unusable.ts';

/** The options of `kin`, as commander gives them. */
export interface KinFlags {
  readonly registry?: string;
  readonly sources: boolean;
  readonly limit?: number;
  readonly unit?: string;
  readonly cache: boolean;
  readonly json: boolean;
}

/** `kinprint kin MESH|VARIANT[/PART]`. */
export async function kinCommand(mesh: string, flags: KinFlags, io: Io): Promise<number> {
  const root = registryFolder(flags.registry, io.cwd);
  const folder = flags.cache ? cacheFolder() : null;
  const cache = openCache(folder);
  const memory = hashMemory(cache);
  const read = cachedReader(cache);
  const state = await readRegistry(workingFiles(root, memory), read);
  tellUnusable(state, io);
  const history = stateHistory(root, memory);
  const sources =
    flags.sources && folder !== null ? openSources(state, { cache: folder, memory, read }) : null;
  const progress = progressOf(io, 'part');
  try {
    if (flags.sources && sources === null)
      throw new InputError(
        'sources-need-cache',
        'Sources are kept in the cache, which is off.',
        'Leave out --no-cache, or set KINPRINT_CACHE to a folder.',
      );
    const opened: KinSource[] = [];
    for (const name of sources?.names ?? []) if (sources !== null) opened.push(await sources.open(name));
    const subjects = await subjectsOf(mesh, flags, state, io.cwd);
    const report = await kinOf(state, history, subjects, {
      cache,
      sources: opened,
      ...(flags.limit === undefined ? {} : { limit: Math.ceil(flags.limit) }),
      progress: (done, total) => progress.at(done, total),
    });
    progress.end();
    await tellGaps(history, io);
    const style = { columns: io.columns, color: io.color };
    io.out(`${flags.json ? JSON.stringify(kinJson(report), null, 2) : kinText(report, style)}\n`);
    return exit.fine;
  } finally {
    cache.flush();
    await Promise.all([history.close(), sources?.close()]);
  }
}

/** A file where there is one of that name, else an address. */
async function subjectsOf(
  mesh: string,
  { unit }: KinFlags,
  state: RegistryState,
  cwd: string,
): Promise<KinSubject[]> {
  const place = path.resolve(cwd, mesh);
  if (statSync(place, { throwIfNoEntry: false })?.isFile() === true) {
    const entry = snapshotFromPath(place).entries[0];
    return [{ name: mesh, entry, unit: (unit as Unit | undefined) ?? null, registered: null }];
  }
  if (/\.\w+$/.test(mesh))
    throw new InputError('file-not-found', `There is no file '${mesh}'.`, 'Check the name.');
  if (unit !== undefined)
    throw new InputError(
      'unit-of-part',
      'The unit of a registered part stands in its manifest.',
      'Leave out --unit, or name a mesh file.',
    );
  return kinSubjects(state, mesh);
}

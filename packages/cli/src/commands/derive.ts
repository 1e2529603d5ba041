import { tmpdir } from 'node:os';
import path from 'node:path';
import {
  cachedReader,
  cacheFolder,
  deriveVariant,
  hashMemory,
  openCache,
  openSources,
  readRegistry,
  workingFiles,
  type DeriveRequest,
} from '@kinprint/registry';
import { deriveJson, deriveText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import type { DeriveFlags } from './registry-flags.ts';

/** `kinprint derive VARIANT NEW`. */
export async function deriveCommand(from: string, to: string, flags: DeriveFlags, io: Io): Promise<number> {
  const root = registryFolder(flags.registry, io.cwd);
  const folder = cacheFolder();
  const cache = openCache(folder);
  const memory = hashMemory(cache);
  const read = cachedReader(cache);
  const state = await readRegistry(workingFiles(root, memory), read);
  const sources = openSources(state, { cache: folder ?? path.join(tmpdir(), 'kinprint'), memory, read });
  try {
    const request: DeriveRequest = {
      from,
      to,
      others: flags.from ?? [],
      relation: flags.relation as DeriveRequest['relation'],
      ...(flags.scale === undefined ? {} : { scale: flags.scale }),
      ...(flags.title === undefined ? {} : { title: flags.title }),
    };
    const report = await deriveVariant(state, request, name => sources.open(name));
    const style = { columns: io.columns, color: io.color };
    io.out(`${flags.json ? JSON.stringify(deriveJson(report), null, 2) : deriveText(report, style)}\n`);
    return exit.fine;
  } finally {
    cache.flush();
    await sources.close();
  }
}

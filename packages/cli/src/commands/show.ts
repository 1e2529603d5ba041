import { InputError } from '@kinprint/mesh';
import {
  cachedReader,
  cacheFolder,
  commitFiles,
  hashMemory,
  oneVariant,
  openCache,
  openRepository,
  publishedAt,
  readRegistry,
  repositoryPrefix,
  showOkh,
  showVariant,
  stateHistory,
  workingFiles,
  type RegistryState,
} from '@kinprint/registry';
import { showJson, showText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import type { ShowFlags } from './registry-flags.ts';
import { tellGaps } from './tell-gaps.ts';

/** `kinprint show VARIANT[@LETTER]`. */
export async function showCommand(name: string, flags: ShowFlags, io: Io): Promise<number> {
  const root = registryFolder(flags.registry, io.cwd);
  const cache = openCache(flags.cache ? cacheFolder() : null);
  const memory = hashMemory(cache);
  const history = stateHistory(root, memory);
  const repository = flags.at === undefined ? null : await openRepository(root);
  try {
    const [address, letter, ...more] = name.split('@');
    if (more.length > 0 || letter === '')
      throw new InputError(
        'address-bad',
        `'${name}' is no address of a variant.`,
        'Write DEVICE/VARIANT or DEVICE/VARIANT@LETTER.',
      );
    const read = cachedReader(cache);
    const whole = () => readRegistry(workingFiles(root, memory), read);
    const one = () => readRegistry(workingFiles(root, memory, oneVariant(address)), read);
    let state: RegistryState;
    if (repository !== null && flags.at !== undefined) {
      const prefix = (await repositoryPrefix(root)) ?? '';
      state = await readRegistry(await commitFiles(repository, flags.at, prefix, memory), read);
    } else {
      state = await one();
      // For the names of those that there are.
      if (!state.variants.has(address)) state = await whole();
    }
    const format = flags.json ? 'json' : flags.format;
    if (format === 'okh') {
      const repo = flags.repo ?? (await publishedAt(root));
      io.out(await showOkh(state, address, letter ?? null, history, cache, repo));
      return exit.fine;
    }
    const page = await showVariant(state, address, letter ?? null, history, cache);
    const style = { columns: io.columns, color: io.color };
    io.out(format === 'json' ? `${JSON.stringify(showJson(page), null, 2)}\n` : `${showText(page, style)}\n`);
    return exit.fine;
  } finally {
    cache.flush();
    await tellGaps(history, io);
    await history.close();
    await repository?.close();
  }
}

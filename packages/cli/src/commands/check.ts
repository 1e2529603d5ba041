import { InputError } from '@kinprint/mesh';
import { cacheFolder, checkRegistry, openCache, openCheck, parseShard } from '@kinprint/registry';
import { checkJson, checkText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import { progressOf } from '../progress.ts';

/** The options of `check`, as commander gives them. */
export interface CheckFlags {
  readonly registry?: string;
  readonly at?: string;
  readonly shard?: string;
  readonly failOn: 'error' | 'warning';
  readonly cache: boolean;
  readonly json: boolean;
}

/** `kinprint check [VARIANT…]`. */
export async function checkCommand(variants: readonly string[], flags: CheckFlags, io: Io): Promise<number> {
  const shard = flags.shard === undefined ? null : parseShard(flags.shard);
  if (shard !== null && variants.length > 0)
    throw new InputError(
      'shard-and-variants',
      'Shards share a whole registry among them; variants were named as well.',
      'Leave out --shard or the variants.',
    );
  const root = registryFolder(flags.registry, io.cwd);
  const cache = openCache(flags.cache ? cacheFolder() : null);
  const open = await openCheck(root, flags.at ?? null, cache);
  const progress = progressOf(io, 'part');
  try {
    const report = await checkRegistry(open.state, {
      ...open.options,
      ...(variants.length === 0 ? {} : { variants }),
      ...(shard === null ? {} : { shard }),
      progress: (done, total) => progress.at(done, total),
    });
    progress.end();
    const style = { columns: io.columns, color: io.color };
    io.out(`${flags.json ? JSON.stringify(checkJson(report), null, 2) : checkText(report, style)}\n`);
    const { errors, warnings } = report.counts;
    return errors > 0 || (flags.failOn === 'warning' && warnings > 0) ? exit.findings : exit.fine;
  } finally {
    cache.flush();
    await open.close();
  }
}

import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import {
  cacheFolder,
  checkRegistry,
  findRegistry,
  namedRegistry,
  noCache,
  openCache,
  openCheck,
  parseShard,
} from '@kinprint/registry';
import { checkJson, checkText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { progressLine } from '../progress.ts';

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
  const root =
    flags.registry === undefined ? findRegistry(io.cwd) : namedRegistry(path.resolve(io.cwd, flags.registry));
  const cache = flags.cache ? openCache(cacheFolder()) : noCache();
  const open = await openCheck(root, flags.at ?? null, cache);
  let progress: ReturnType<typeof progressLine> | null = null;
  try {
    const report = await checkRegistry(open.state, {
      ...open.options,
      ...(variants.length === 0 ? {} : { variants }),
      ...(shard === null ? {} : { shard }),
      progress: (done, total) => (progress ??= progressLine(io, total, 'part')).at(done),
    });
    endProgress(progress);
    const style = { columns: io.columns, color: io.color };
    io.out(`${flags.json ? JSON.stringify(checkJson(report), null, 2) : checkText(report, style)}\n`);
    const { errors, warnings } = report.counts;
    return errors > 0 || (flags.failOn === 'warning' && warnings > 0) ? exit.findings : exit.fine;
  } finally {
    cache.flush();
    await open.close();
  }
}

function endProgress(progress: ReturnType<typeof progressLine> | null): void {
  progress?.end();
}

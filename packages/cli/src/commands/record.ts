import { InputError } from '@kinprint/mesh';
import {
  cacheFolder,
  checkRegistry,
  openCache,
  openCheck,
  recordVariant,
  variantOf,
  type RecordOptions,
} from '@kinprint/registry';
import { recordJson, recordText } from '@kinprint/report';
import { checkedDate } from '../checked-date.ts';
import { exit, type Io } from '../io.ts';
import { progressLine } from '../progress.ts';
import { registryFolder } from '../registry-folder.ts';
import { latestDay, today } from '../today.ts';
import type { RecordFlags } from './registry-flags.ts';

/** `kinprint record VARIANT`. */
export async function recordCommand(address: string, flags: RecordFlags, io: Io): Promise<number> {
  const root = registryFolder(flags.registry, io.cwd);
  const date = flags.date === undefined ? today() : checkedDate(flags.date);
  const cache = openCache(cacheFolder());
  const open = await openCheck(root, null, cache);
  const parts = variantOf(open.state, address).document.value?.parts.length ?? 0;
  const progress = progressLine(io, parts, 'part');
  try {
    const options: RecordOptions = {
      date,
      dateChosen: flags.date !== undefined,
      latestDate: latestDay(),
      anyDate: flags.anyDate,
      cache,
      ...(flags.letter === undefined ? {} : { letter: flags.letter.trim() }),
      dryRun: flags.dryRun,
      ...(flags.by === undefined ? {} : { by: oneLine(flags.by, '--by') }),
      ...(flags.summary === undefined ? {} : { summary: oneLine(flags.summary, '--summary') }),
      progress: done => progress.at(Math.min(done, parts)),
      check: async (state, variant) =>
        (await checkRegistry(state, { ...open.options, variants: [variant] })).findings,
    };
    const outcome = await recordVariant(open.state, address, options);
    progress.end();
    const style = { columns: io.columns, color: io.color };
    const text = flags.json ? JSON.stringify(recordJson(outcome), null, 2) : recordText(outcome, style);
    io.out(`${text}\n`);
    return outcome.kind === 'refused' ? exit.findings : exit.fine;
  } finally {
    cache.flush();
    await open.close();
  }
}

function oneLine(text: string, option: string): string {
  const trimmed = text.trim();
  if (trimmed !== '' && [...trimmed].length <= 200 && !/[\u0000-\u001f]/.test(trimmed)) return trimmed;
  throw new InputError('text-bad', `${option} takes one line of at most 200 characters.`, 'Shorten it.');
}

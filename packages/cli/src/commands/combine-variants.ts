import { tmpdir } from 'node:os';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import {
  cachedReader,
  cacheFolder,
  combineVariants,
  hashMemory,
  openCache,
  openSources,
  readRegistry,
  workingFiles,
} from '@kinprint/registry';
import { combineVariantsJson, combineVariantsText, type CombineNames } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import { stageLine } from '../stage-line.ts';
import { readChoices } from './combine-choices.ts';
import { meshOptions, type CombineFlags } from './combine-flags.ts';

/** `kinprint combine BASE@L REMIX_A@L REMIX_B@L NEW` for variants. */
export async function combineVariantsCommand(
  names: CombineNames,
  to: string,
  flags: CombineFlags,
  io: Io,
): Promise<number> {
  const wrong = [flags.output === undefined ? '' : '--output', flags.unit === undefined ? '' : '--unit'];
  const unfit = wrong.find(Boolean);
  if (unfit !== undefined)
    throw new InputError(
      'option-unfit',
      `${unfit} goes with mesh files alone.`,
      'Leave it out: the new variant is written into its own folder, units are in the manifests.',
    );
  const choices = readChoices(flags.take ?? []);
  const root = registryFolder(flags.registry, io.cwd);
  const folder = cacheFolder();
  const cache = openCache(folder);
  const memory = hashMemory(cache);
  const read = cachedReader(cache);
  const state = await readRegistry(workingFiles(root, memory), read);
  const sources = openSources(state, { cache: folder ?? path.join(tmpdir(), 'kinprint'), memory, read });
  const stage = stageLine(io);
  try {
    const report = await combineVariants(
      state,
      {
        ...names,
        to,
        choices,
        mesh: meshOptions(flags),
        ...(flags.title === undefined ? {} : { title: flags.title }),
      },
      name => sources.open(name),
      part => stage.at(`combining ${part}`),
    );
    stage.end();
    const style = { columns: io.columns, color: io.color };
    io.out(
      `${flags.json ? JSON.stringify(combineVariantsJson(report), null, 2) : combineVariantsText(report, style)}\n`,
    );
    return report.written === null ? exit.findings : exit.fine;
  } finally {
    stage.end();
    cache.flush();
    await sources.close();
  }
}

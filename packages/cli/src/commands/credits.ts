import path from 'node:path';
import type { Credits } from '@kinprint/license';
import { InputError } from '@kinprint/mesh';
import { billOf, cacheFolder, creditsOf, openCache, writeReuse, type Bill } from '@kinprint/registry';
import {
  billCycloneDx,
  billDate,
  billSpdx,
  creditsHtml,
  creditsJson,
  creditsLabel,
  creditsMarkdown,
  creditsPlain,
  reuseJson,
  reusePlan,
  reuseText,
  type BillAbout,
} from '@kinprint/report';
import { checkedDate } from '../checked-date.ts';
import { exit, type Io } from '../io.ts';
import { checkOutputs } from '../outputs.ts';
import { registryFolder } from '../registry-folder.ts';
import { version } from '../version.ts';
import { writeOutput } from '../write-output.ts';
import type { CreditsFlags, CreditsFormat } from './audit-flags.ts';
import { namedWork, openWorks, type OpenedWorks } from './audited-works.ts';

/** `kinprint credits VARIANT[@LETTER]`. */
export async function creditsCommand(variant: string, flags: CreditsFlags, io: Io): Promise<number> {
  if (flags.format !== 'reuse') await checkOutputs(io.cwd, [{ option: '--output', file: flags.output }]);
  const root = registryFolder(flags.registry, io.cwd);
  const cache = openCache(cacheFolder());
  try {
    const opened = await openWorks(root, cache, flags, io);
    try {
      const id = namedWork(opened.works, variant);
      const told = creditsOf(opened.works, id);
      const { format } = flags;
      if (format === 'reuse') return await reuse(opened, id, told, flags, io);
      // The bills are JSON of their own.
      const words = format !== 'spdx' && format !== 'cyclonedx';
      const text = await formatted(opened, id, told, flags, flags.json && words ? 'json' : format);
      if (flags.output === undefined) io.out(text);
      else await writeOutput(path.resolve(io.cwd, flags.output), text);
      return exit.fine;
    } finally {
      await opened.close();
    }
  } finally {
    cache.flush();
  }
}

async function formatted(
  opened: OpenedWorks,
  id: string,
  told: Credits,
  flags: CreditsFlags,
  format: Exclude<CreditsFormat, 'reuse'>,
): Promise<string> {
  const json = (value: object): string => `${JSON.stringify(value, null, 2)}\n`;
  switch (format) {
    case 'spdx':
      return json(await billSpdx(...(await bill(opened, id, told, flags))));
    case 'cyclonedx':
      return json(await billCycloneDx(...(await bill(opened, id, told, flags))));
    case 'json':
      return json(creditsJson(told));
    case 'markdown':
      return creditsMarkdown(told);
    case 'html':
      return creditsHtml(told);
    case 'label':
      return `${creditsLabel(told, flags.columns)}\n`;
    case 'text':
      return `${creditsPlain(told)}\n`;
  }
}

async function bill(
  { state, history, works }: OpenedWorks,
  id: string,
  told: Credits,
  flags: CreditsFlags,
): Promise<[Bill, BillAbout]> {
  const listed = await billOf(state, history, works, id);
  const date = flags.date === undefined ? billDate(listed) : checkedDate(flags.date);
  if (date === null)
    throw new InputError(
      'date-missing',
      `Nothing of ${id} and its lineage is recorded, so the document has no date to bear.`,
      'Record it, or give a date: --date 2026-03-14.',
    );
  return [listed, { credits: told, date, version }];
}

/** 1 where something is missing for the folder to conform. */
async function reuse(
  { state, history, works }: OpenedWorks,
  id: string,
  told: Credits,
  flags: CreditsFlags,
  io: Io,
): Promise<number> {
  if (flags.output === undefined)
    throw new InputError(
      'output-missing',
      'REUSE is a folder of files.',
      'Name a folder that is not there yet: --output DIR.',
    );
  const plan = reusePlan(await billOf(state, history, works, id), told);
  const node = works.graph.nodes.find(each => each.id === id);
  if (node === undefined) throw new Error(`${id} is no work of this lineage.`);
  const outcome = await writeReuse(state, history, works, node, plan, path.resolve(io.cwd, flags.output));
  const report = { ...outcome, problems: plan.problems };
  const style = { columns: io.columns, color: io.color };
  io.out(`${flags.json ? JSON.stringify(reuseJson(report), null, 2) : reuseText(report, style)}\n`);
  return outcome.missing.length + plan.problems.length > 0 ? exit.findings : exit.fine;
}

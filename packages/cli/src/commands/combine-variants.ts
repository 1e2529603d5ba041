import { InputError } from '@kinprint/mesh';
import { combineVariants, keptCombinations, type VariantChoices } from '@kinprint/registry';
import {
  combineVariantsJson,
  combineVariantsQuestions,
  combineVariantsText,
  type CombineNames,
} from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { openWithSources } from '../open-with-sources.ts';
import { registryFolder } from '../registry-folder.ts';
import { stageLine } from '../stage-line.ts';
import { untilSettled } from './combine-ask.ts';
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
  const registry = await openWithSources(registryFolder(flags.registry, io.cwd));
  const stage = stageLine(io);
  const kept = keptCombinations();
  try {
    const style = { columns: io.columns, color: io.color };
    const combine = async (settled: VariantChoices) => {
      const request = {
        ...names,
        to,
        choices: settled,
        mesh: meshOptions(flags),
        ...(flags.title === undefined ? {} : { title: flags.title }),
      };
      const work = combineVariants(
        registry.state,
        request,
        registry.source,
        part => stage.at(`combining ${part}`),
        kept,
      );
      return work.finally(() => stage.end());
    };
    const report = await untilSettled(choices, flags.json ? undefined : io.openDialog, combine, result =>
      combineVariantsQuestions(result, style),
    );
    io.out(
      `${flags.json ? JSON.stringify(combineVariantsJson(report), null, 2) : combineVariantsText(report, style)}\n`,
    );
    return report.written === null ? exit.findings : exit.fine;
  } finally {
    stage.end();
    await kept.close();
    await registry.close();
  }
}

import path from 'node:path';
import { InputError, type Unit } from '@kinprint/mesh';
import {
  combineEntries,
  keptCombinations,
  readAlike,
  type VariantChoices,
  type WrittenFormat,
} from '@kinprint/registry';
import { combineJson, combineQuestions, combineText, type CombineNames } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { checkOutputs } from '../outputs.ts';
import { stageLine } from '../stage-line.ts';
import { writeOutput } from '../write-output.ts';
import { untilSettled } from './combine-ask.ts';
import { readChoices } from './combine-choices.ts';
import { meshOptions, type CombineFlags } from './combine-flags.ts';

/** `kinprint combine BASE REMIX_A REMIX_B` for mesh files. */
export async function combineMeshesCommand(
  names: CombineNames,
  flags: CombineFlags,
  io: Io,
): Promise<number> {
  const choices = readChoices(flags.take ?? []);
  const absolute = (name: string) => path.resolve(io.cwd, name);
  const paths = { base: absolute(names.base), a: absolute(names.a), b: absolute(names.b) };
  const output = flags.output === undefined ? null : absolute(flags.output);
  const format = formatOf(flags.output);
  if (output !== null && Object.values(paths).includes(output))
    throw new InputError(
      'output-is-input',
      'The result would overwrite one of the three.',
      'Name another file.',
      {
        file: flags.output ?? '',
      },
    );
  await checkOutputs(io.cwd, [{ option: '--output', file: flags.output }]);
  const style = { columns: io.columns, color: io.color };
  const kept = keptCombinations();
  const combine = async (settled: VariantChoices) => {
    const stage = stageLine(io);
    stage.at('combining');
    const work = kept.combine('', combineEntries(paths), names, {
      options: meshOptions(flags),
      choices: settled,
      format,
      read: readAlike(flags.unit === undefined ? {} : { unit: flags.unit as Unit }),
    });
    return work.finally(() => stage.end());
  };
  const { combination, bytes } = await untilSettled(
    choices,
    flags.json ? undefined : io.openDialog,
    combine,
    result => combineQuestions(result.combination, style),
  ).finally(kept.close);
  const proven = combination.proof?.holds === true;
  const written = proven && bytes !== null && output !== null ? (flags.output ?? null) : null;
  if (written !== null && bytes !== null) await writeOutput(absolute(written), bytes);
  io.out(
    `${
      flags.json
        ? JSON.stringify(combineJson(names, combination, written), null, 2)
        : combineText(names, combination, written, style)
    }\n`,
  );
  return proven ? exit.fine : exit.findings;
}

function formatOf(output: string | undefined): WrittenFormat {
  const ending = path.extname(output ?? 'result.stl').toLowerCase();
  if (ending === '.stl') return 'stl';
  if (ending === '.3mf') return '3mf';
  throw new InputError(
    'output-format',
    'Results are written as STL or 3MF.',
    'Name a file that ends in .stl or .3mf.',
    {
      file: output ?? '',
    },
  );
}

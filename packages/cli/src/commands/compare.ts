import { InputError, type Unit } from '@kinprint/mesh';
import { comparePair, compareTrees, type Snapshot, type SnapshotEntry } from '@kinprint/registry';
import { clean, compareJson, compareText, noVolumeText, treeJson, treeText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import type { CompareFlags } from '../flags.ts';
import { progressLine } from '../progress.ts';
import { openSides } from '../sides.ts';

const verdicts = [
  'identical',
  'same-shape',
  'moved',
  'mirrored',
  'rescaled',
  'reworked',
  'replaced',
  'unsound',
  'added',
  'removed',
  'unreadable',
  'failed',
];

/** `kinprint compare BEFORE AFTER`. */
export async function compareCommand(
  before: string,
  after: string | undefined,
  flags: CompareFlags,
  io: Io,
): Promise<number> {
  const stop = gate(flags.failOn ?? []);
  const sides = await openSides(before, after, flags.repo, io.cwd);
  const options = {
    asPlaced: flags.asPlaced,
    density_g_cm3: flags.density,
    ...(flags.tolerance === undefined ? {} : { tolerance_mm: flags.tolerance }),
    ...(flags.unit === undefined ? {} : { unit: flags.unit as Unit }),
  };
  const style = { columns: io.columns, color: io.color };
  try {
    if (sides.before.kind === 'file') {
      const names = [onlyEntry(sides.before).name, onlyEntry(sides.after).name] as const;
      const { comparison, measurements } = await comparePair(
        onlyEntry(sides.before).entry,
        onlyEntry(sides.after).entry,
        options,
      );
      if (flags.json) io.out(`${JSON.stringify(compareJson(names[0], names[1], comparison), null, 2)}\n`);
      else
        io.out(
          `${compareText(names[0] === names[1] ? names[0] : `${names[0]} → ${names[1]}`, comparison, style)}\n`,
        );
      if (comparison.verdict === 'unsound') {
        measurements.forEach((m, k) => {
          if (m.volume_mm3 === null) io.err(noVolumeText(names[k as 0 | 1], m));
        });
        return exit.usage;
      }
      return stop.has(comparison.verdict) ? exit.findings : exit.fine;
    }
    const progress = progressLine(
      io,
      Math.max(sides.before.entries.length, sides.after.entries.length),
      'part',
    );
    const tree = await compareTrees(sides.before, sides.after, options, {
      progress: done => progress.at(done),
    });
    progress.end();
    if (flags.json)
      io.out(`${JSON.stringify(treeJson(sides.before.name, sides.after.name, tree), null, 2)}\n`);
    else io.out(`${treeText(`${sides.before.name} → ${sides.after.name}`, tree, style)}\n`);
    for (const part of tree.parts) {
      if (part.problem !== null)
        io.err(
          `kinprint: ${clean(`${part.after ?? part.before ?? ''}: ${sentence(part.problem.text)} ${part.problem.remedy}`)}\n`,
        );
    }
    if (tree.parts.some(part => part.problem !== null && !absent.has(part.problem.code))) return exit.usage;
    return tree.parts.some(part => stop.has(part.verdict)) ? exit.findings : exit.fine;
  } finally {
    await sides.close();
  }
}

/** Content that a repository or folder does not hold is named, and is nobody's mistake. */
const absent: ReadonlySet<string> = new Set(['missing', 'lfs-pointer']);

function sentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** The verdicts that make the exit code 1. */
function gate(words: readonly string[]): ReadonlySet<string> {
  const unknown = words.find(word => !verdicts.includes(word));
  if (unknown !== undefined) {
    throw new InputError(
      'verdict-unknown',
      `--fail-on does not know the verdict '${unknown}'.`,
      `It knows: ${verdicts.join(', ')}.`,
    );
  }
  return new Set(words);
}

function onlyEntry(snapshot: Snapshot): { name: string; entry: SnapshotEntry } {
  const entry = snapshot.entries[0];
  if (entry === undefined)
    throw new InputError('no-mesh', `'${snapshot.name}' holds no mesh.`, 'Name a mesh file.');
  return { name: snapshot.name, entry };
}

import { openCombination, type Choices, type OpenCombination } from '@kinprint/compare';
import {
  bytesSource,
  concatenate,
  InputError,
  measureMesh,
  readMesh,
  writeStlBinary,
  writeThreeMf,
  type Mesh,
  type ReadOptions,
} from '@kinprint/mesh';
import { kernel } from './booleans.ts';
import { onceThinnest, thinnestOf, wallNotes, type ThinnestOfThree } from './combined-walls.ts';
import type { CombineOutput, FileInput, Task, WrittenFormat } from './task.ts';

/** Combinations of this thread that may be asked again. */
const kept = new Map<string, KeptCombination>();

interface KeptCombination {
  readonly open: OpenCombination;
  /** How thin the three are, worked out when there is a result to compare with. */
  readonly thinnest: () => ThinnestOfThree;
}

/**
 * Combines three mesh files, and keeps what is known of them.
 *
 * @throws InputError for files that cannot be read or combined
 */
export async function combineTask(
  { files, options, choices, format, keepAs }: Extract<Task, { kind: 'combine' }>,
  read: (input: FileInput, options: ReadOptions) => Mesh,
): Promise<CombineOutput> {
  const sourceOf = (side: 'base' | 'a' | 'b') => {
    const { name } = files[side];
    try {
      const mesh = read(files[side], files.read[side]);
      // Where faces cross is looked for in the result alone.
      const asked = { walls: false, overhang: false, selfIntersections: false };
      return { name, mesh, measurement: measureMesh(mesh, asked) };
    } catch (error) {
      throw error instanceof InputError ? error.inFile(name) : error;
    }
  };
  const sources = { base: sourceOf('base'), a: sourceOf('a'), b: sourceOf('b') };
  const open = openCombination(await kernel(), sources, options);
  const known = { open, thinnest: onceThinnest(sources) };
  kept.set(keepAs, known);
  return settled(known, choices, format);
}

/** A kept combination with other choices. */
export function combineAgainTask({
  kept: name,
  choices,
  format,
}: Extract<Task, { kind: 'combine-again' }>): CombineOutput {
  const known = kept.get(name);
  if (known === undefined) throw new Error('The combination was not kept.');
  return settled(known, choices, format);
}

export function forgetCombination(name: string): void {
  kept.delete(name);
}

/** The result is proven as its bytes hold it, rounding of the format included. */
function settled(
  { open, thinnest }: KeptCombination,
  choices: Choices,
  format: WrittenFormat,
): CombineOutput {
  let result: Mesh | null = null;
  const { combination, written } = open.settle(choices, mesh => {
    const bytes = encoded(mesh, format);
    result = concatenate(readMesh(bytesSource(bytes)).objects.map(object => object.mesh));
    return { written: bytes, mesh: result };
  });
  // What is an input, triangle for triangle, is no thinner than that.
  if (result === null || combination.result === null || combination.result.same_as !== null)
    return { combination, bytes: written };
  const notes = wallNotes(thinnestOf(result), thinnest(), combination.tolerance_mm);
  return { combination: { ...combination, notes: [...combination.notes, ...notes] }, bytes: written };
}

function encoded(mesh: Mesh, format: WrittenFormat): Uint8Array {
  switch (format) {
    case 'stl':
      return writeStlBinary(mesh);
    case '3mf':
      return writeThreeMf([{ name: null, mesh }]);
  }
}

import { contentDigest, letterAt, type RevisionEntry, type VariantDocument } from '@kinprint/manifest';
import type { AdoptPlan, LetterPlan, VariantPlan } from '../plan/types.ts';
import type { SourceState } from '../source/types.ts';
import { variantText, variantValue, type SettledDerivation } from './documents.ts';
import type { Stage, StagedFile } from './stage.ts';

/** A letter with everything that is written for it. */
export interface ReadyLetter {
  readonly variant: VariantPlan;
  readonly plan: LetterPlan;
  readonly entry: RevisionEntry;
  /** variant.yaml. */
  readonly manifest: StagedFile;
  /** By their path from the variant's folder. */
  readonly files: ReadonlyMap<string, StagedFile>;
}

export interface LetterOptions {
  /** Who adopts: named where the source does not say who made a state. */
  readonly by: string;
  /** Today, for a folder without a history. ISO 8601. */
  readonly today: string;
  readonly contacts: boolean;
}

/**
 * Copies the content of every letter and computes its digest; the variants' letters in the order of the plan.
 *
 * @throws InputError for a file that cannot be read
 */
export async function readyLetters(
  plan: AdoptPlan,
  states: readonly SourceState[],
  stage: Stage,
  options: LetterOptions,
): Promise<ReadyLetter[][]> {
  const digests = new Map<string, string>();
  const all: ReadyLetter[][] = [];
  for (const variant of plan.variants) {
    const entries: RevisionEntry[] = [];
    const ready: ReadyLetter[] = [];
    for (const [index, letter] of variant.letters.entries()) {
      const files = new Map<string, StagedFile>();
      for (const file of letter.files)
        files.set(file.to, await stage.copy(fileOf(states, file.state, file.from)));
      const value = variantValue(variant, letter, derivationsOf(plan, letter, digests), options.contacts);
      const entry = await entryOf(value, files, letter, index, options);
      digests.set(`${variant.id} ${index}`, entry.digest);
      entries.push(entry);
      const manifest = stage.text(variantText(plan, variant, value, entries));
      ready.push({ variant, plan: letter, entry, manifest, files });
    }
    all.push(ready);
  }
  return all;
}

async function entryOf(
  value: VariantDocument,
  files: ReadonlyMap<string, StagedFile>,
  letter: LetterPlan,
  index: number,
  options: LetterOptions,
): Promise<RevisionEntry> {
  const listed = [...files].map(([path, { sha256 }]) => ({ path, sha256 }));
  const first = letter.commits[0];
  return {
    letter: letterText(index),
    digest: await contentDigest(value, listed),
    date: first?.date ?? options.today,
    by: first?.author.name ?? options.by,
    ...(letter.changes.length === 0 ? {} : { changes: [...letter.changes] }),
  };
}

function derivationsOf(
  plan: AdoptPlan,
  letter: LetterPlan,
  digests: ReadonlyMap<string, string>,
): SettledDerivation[] {
  return letter.derivations.map(({ variant, letter: index, relation, changes, unsettled }) => {
    const digest = digests.get(`${variant} ${index}`);
    return {
      from: `${plan.device.id}/${variant}@${letterText(index)}`,
      ...(digest === undefined ? {} : { digest }),
      relation,
      changes,
      unsettled,
    };
  });
}

function letterText(index: number): string {
  const letter = letterAt(index);
  if (letter === null) throw new Error(`There is no letter number ${index}.`);
  return letter;
}

function fileOf(states: readonly SourceState[], state: number, path: string) {
  const file = states[state]?.files.find(candidate => candidate.path === path);
  if (file === undefined) throw new Error(`State ${state} has no file ${path}.`);
  return file;
}

import type { MergeClash, MergePick } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { Take } from '@kinprint/solid';
import type { DocumentConflict, VariantChoices } from './variants.ts';

/** Settles clashes as chosen, and keeps a list of them. */
export interface ClashDesk {
  readonly conflicts: readonly DocumentConflict[];
  settle(this: void, clash: MergeClash): MergePick | null;
}

/** A value cannot be both: `both` for all leaves clashes open, `both` for one is an error. */
export function clashDesk({ all, single }: VariantChoices): ClashDesk {
  const conflicts: DocumentConflict[] = [];
  return {
    conflicts,
    settle({ key, base, a, b }) {
      const own = Object.hasOwn(single, key) ? single[key] : undefined;
      if (own === 'both')
        throw new InputError(
          'take-unfit',
          `'${key}' cannot be both values.`,
          `Say ${key}=a, ${key}=b or ${key}=none (what the base has).`,
        );
      const take = own ?? (all === 'both' ? null : all);
      const json = (value: unknown) => value ?? null;
      conflicts.push({ key, base: json(base), a: json(a), b: json(b), take });
      return take === 'none' ? 'base' : take;
    },
  };
}

/** The choices for the conflicts in one part's mesh: `shell:2` is number 2 of part `shell`. */
export function meshChoices({ all, single }: VariantChoices, part: string) {
  const own = Object.entries(single).flatMap(([key, take]): [string, Take][] => {
    const [, id, number] = /^([^:/]+):(\d+)$/.exec(key) ?? [];
    return id === part && number !== undefined ? [[number, take]] : [];
  });
  return { all, single: Object.fromEntries(own) };
}

/**
 * Every choice must have been asked for.
 *
 * @param keys of the conflicts that there are
 * @throws InputError `conflict-unknown`
 */
export function checkChoices({ single }: VariantChoices, keys: readonly string[]): void {
  const unknown = Object.keys(single).find(key => !keys.includes(key));
  if (unknown === undefined) return;
  throw new InputError(
    'conflict-unknown',
    `There is no conflict '${unknown}'.`,
    keys.length === 0 ? 'There are none: leave --take out.' : `There are: ${keys.join(', ')}.`,
  );
}

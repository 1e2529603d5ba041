import { InputError } from '@kinprint/mesh';
import { manifestInputError } from '../manifest-input-error.ts';
import { besideManifest } from '../record/write-manifest.ts';
import { editInPlace } from './place-lines.ts';
import type { OpenPreparation } from './prepare.ts';
import type { MissingKind } from './types.ts';

/** A line that was written. */
export interface AddedLine {
  readonly kind: MissingKind;
  readonly variant: string;
  readonly part: string | null;
  /** The manifest, from the registry's root. */
  readonly file: string;
}

/**
 * Writes the missing lines of which nothing is left to a person, where they are offered; comments and order of the
 * manifests stay. Each manifest is written as a whole or not at all.
 *
 * @throws InputError `manifest-changed` where one was edited meanwhile
 */
export function addCertainLines(root: string, { opened, offers }: OpenPreparation): AddedLine[] {
  const added: AddedLine[] = [];
  for (const [address, lines] of offers) {
    const certain = lines.flatMap(({ made }) => made.filter(offer => offer.certain));
    const variant = opened.after.state.variants.get(address);
    if (variant === undefined || certain.length === 0) continue;
    const { text, file } = variant.document;
    let written: string;
    try {
      // One after the other, each where it was offered; what an edit names by its number keeps it.
      written = certain.reduce((sofar, { edits }) => editInPlace(sofar, edits), text);
    } catch (error) {
      throw manifestInputError(error, file);
    }
    const beside = besideManifest(root, variant, written);
    try {
      if (!beside.takePlace())
        throw new InputError(
          'manifest-changed',
          'The manifest was edited while it was looked at; nothing was added to it.',
          'Save it, and run the command again.',
          { file },
        );
    } finally {
      beside.remove();
    }
    for (const { kind, part = null } of certain) added.push({ kind, variant: address, part, file });
  }
  return added;
}

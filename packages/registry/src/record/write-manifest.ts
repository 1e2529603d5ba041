import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { randomBytes } from 'node:crypto';
import path from 'node:path';
import { editDocument, type RevisionEntry } from '@kinprint/manifest';
import { removeAbandoned } from '../git/abandoned.ts';
import { manifestInputError } from '../manifest-input-error.ts';
import { variantFile } from '../state/registry-files.ts';
import type { VariantState } from '../state/types.ts';

/**
 * The manifest's text with more entries in its log; comments and order stay.
 *
 * @throws InputError `edit-unreadable`, `edit-no-such-place`
 */
export function withEntries(variant: VariantState, entries: readonly RevisionEntry[]): string {
  const { text, file } = variant.document;
  const count = variant.document.value?.revisions?.length ?? 0;
  const edits =
    count === 0
      ? [{ path: ['revisions'], value: entries }]
      : entries.map((entry, k) => ({ path: ['revisions', count + k], value: entry }));
  try {
    return editDocument(text, edits);
  } catch (error) {
    throw manifestInputError(error, file);
  }
}

/** A new text of a manifest, written beside it and not yet in its place. */
export interface BesideManifest {
  /** Whether the manifest still has the text that was read. */
  unchanged(): boolean;
  /** Puts it in place in one step; false when the manifest was edited since it was read, which is then left alone. */
  takePlace(): boolean;
  /** Removes it if it never took its place. */
  remove(): void;
}

const prefix = '.kinprint-record-';

export function besideManifest(root: string, variant: VariantState, text: string): BesideManifest {
  const manifest = path.join(root, variant.folder, variantFile);
  const beside = path.join(
    root,
    variant.folder,
    `${prefix}${process.pid}-${randomBytes(4).toString('hex')}.tmp`,
  );
  writeFileSync(beside, text, { mode: 0o644, flush: true });
  const unchanged = (): boolean => {
    try {
      return readFileSync(manifest, 'utf8') === variant.document.text;
    } catch {
      return false;
    }
  };
  return {
    unchanged,
    takePlace() {
      if (!unchanged()) return false;
      renameSync(beside, manifest);
      return true;
    },
    remove: () => rmSync(beside, { force: true }),
  };
}

/** Removes what recordings that were killed left beside the manifest. */
export function clearAbandoned(root: string, folder: string): void {
  removeAbandoned(
    path.join(root, folder),
    new RegExp(`^${prefix.replaceAll('.', '\\.')}([0-9]+)-[0-9a-f]+\\.tmp$`),
  );
}

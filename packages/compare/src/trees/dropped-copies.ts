import type { Note } from '@kinprint/mesh';
import type { PartPool } from './part-pool.ts';

/**
 * Turns copies that were dropped into removed files: the file of AFTER that still holds their content has its own
 * line. A note says where that is.
 */
export function removeDroppedCopies(pool: PartPool): void {
  const counts = new Map<string, number>();
  for (const { after } of pool.rows)
    if (after !== null) counts.set(after.path, (counts.get(after.path) ?? 0) + 1);
  for (const [i, row] of pool.rows.entries()) {
    const { before, after, pairing } = row;
    if (pairing !== 'copy' || before === null || after === null || counts.get(after.path) === 1) continue;
    pool.rows[i] = { before, after: null, pairing: 'removed', outcome: null };
    pool.notes.push(goneNote(before.path, `the same content stands in ${after.path}`));
  }
}

/** Tells that a file is gone, though what it held is not. */
export function goneNote(path: string, what: string): Note {
  return { code: 'gone-but-kept', text: `${path} is gone; ${what}.`, about: 'parts' };
}

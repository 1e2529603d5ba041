import oldExceptions from 'spdx-exceptions/deprecated.json' with { type: 'json' };
import exceptions from 'spdx-exceptions/index.json' with { type: 'json' };
import oldIds from 'spdx-license-ids/deprecated.json' with { type: 'json' };
import ids from 'spdx-license-ids/index.json' with { type: 'json' };
import { replacements } from './replacements.ts';

/** An id of the list, as it is written there, and whether it was out of use. */
export interface KnownId {
  readonly id: string;
  /** `GPL-2.0+`: the text named an id out of use. */
  readonly old: boolean;
}

const listed = byLowerCase(ids);
const outOfUse = byLowerCase([...oldIds, ...Object.keys(replacements)]);
const listedExceptions = byLowerCase(exceptions);
const outOfUseExceptions = byLowerCase(oldExceptions);

/** The license of that id; ids match whatever their letter case (SPDX specification 2.3, annex D.2). */
export function licenseId(word: string): KnownId | null {
  const current = listed.get(word.toLowerCase());
  if (current !== undefined) return { id: current, old: false };
  const old = outOfUse.get(word.toLowerCase());
  if (old === undefined) return null;
  return { id: replacements[old] ?? old, old: true };
}

/** The exception of that id, which may stand after WITH. */
export function exceptionId(word: string): KnownId | null {
  const current = listedExceptions.get(word.toLowerCase());
  if (current !== undefined) return { id: current, old: false };
  const old = outOfUseExceptions.get(word.toLowerCase());
  return old === undefined ? null : { id: old, old: true };
}

function byLowerCase(words: readonly string[]): ReadonlyMap<string, string> {
  return new Map(words.map(word => [word.toLowerCase(), word]));
}

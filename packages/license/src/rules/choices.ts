import type { Term } from '../expression/tree.ts';
import { findLicense } from './find-license.ts';
import type { License } from './types.ts';

/** One license of one version that a term offers. */
export interface Choice {
  readonly license: License;
  /** Any version after that one, which is not written yet. */
  readonly later: boolean;
  /** What WITH adds; null for exceptions that only repeat what the license allows. */
  readonly exception: string | null;
}

const gnuVersions: Readonly<Record<string, readonly string[]>> = {
  GPL: ['1.0', '2.0', '3.0'],
  LGPL: ['2.0', '2.1', '3.0'],
  AGPL: ['1.0', '3.0'],
};
const ccVersions = ['1.0', '2.0', '2.5', '3.0', '4.0'];

/** Wrap-arounds of Apache-2.0, which one may leave aside (SHL-2.1, text). */
const optionalWraps = new Set(['SHL-2.0', 'SHL-2.1']);

/** What a term lets one choose from, oldest first: `GPL-2.0-or-later` is version 2, version 3, or any after it. */
export function choicesOf({ id, orLater, exception }: Term): readonly Choice[] {
  const added = exception !== null && optionalWraps.has(exception) ? null : exception;
  const exact = (name: string): Choice => ({ license: findLicense(name), later: false, exception: added });
  const withLater = (names: readonly string[]): Choice[] => {
    const all = names.map(exact);
    return [...all, { ...all[all.length - 1], later: true }];
  };

  const gnu = /^(GPL|LGPL|AGPL)-(\d\.\d)-(only|or-later)$/.exec(id);
  if (gnu !== null) {
    const [, name, version, reach] = gnu;
    if (reach === 'only' && !orLater) return [exact(id)];
    return withLater(from(gnuVersions[name], version).map(v => `${name}-${v}-only`));
  }
  if (!orLater) return [exact(id)];
  const cc = /^(CC-BY(?:-NC)?(?:-SA|-ND)?)-(\d\.\d)$/.exec(id);
  return withLater(cc === null ? [id] : from(ccVersions, cc[2]).map(v => `${cc[1]}-${v}`));
}

function from(versions: readonly string[], version: string): readonly string[] {
  const at = versions.indexOf(version);
  return at < 0 ? [version] : versions.slice(at);
}

import { foldPath } from '../snapshot/portable-names.ts';

/**
 * The path, or with a number before its ending where that is taken: by a file of the same name (names that differ in
 * case or in the encoding of accents alone are the same to many file systems), or by a folder.
 *
 * @param taken paths from the same folder
 */
export function freePath(path: string, taken: Iterable<string>): string {
  const names = new Set<string>();
  for (const one of taken) {
    const steps = foldPath(one).split('/');
    // Every folder above a file is a name that is taken as well.
    steps.forEach((_, k) => names.add(steps.slice(0, k + 1).join('/')));
  }
  const [, base = path, ending = ''] = /^(.*[^/])(\.[^./]*)$/s.exec(path) ?? [];
  for (let n = 1; ; n++) {
    const candidate = n === 1 ? path : `${base}-${n}${ending}`;
    if (!names.has(foldPath(candidate))) return candidate;
  }
}

import { oneLine } from '../source/commit-object.ts';

/** Latin letters that Unicode does not take apart into a letter and a mark. Common practice, no source. */
const plainLetters: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  ł: 'l',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ı: 'i',
};

/** A text as an id: lower-case letters, digits, single hyphens, at most 64; marks on letters are dropped. */
export function idOf(text: string): string {
  return text
    .replace(/[ßẞæÆœŒøØłŁđĐðÐþÞı]/g, letter => {
      const plain = plainLetters[letter.toLowerCase()] ?? letter;
      return letter === letter.toLowerCase() ? plain : plain.toUpperCase();
    })
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .replace(/([a-z])([A-Z])/g, '$1-$2')
    .toLowerCase()
    .replace(/%/g, 'pct')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 64)
    .replace(/-+$/, '');
}

/** Hands out ids, each once; one that is taken gets a number behind it. */
export function idGiver(): (wanted: readonly string[], fallback: string) => string {
  const taken = new Set<string>();
  return (wanted, fallback) => {
    const usable = wanted.filter(id => id !== '');
    const free = usable.find(id => !taken.has(id));
    let id = free ?? usable[0] ?? fallback;
    for (let n = 2; taken.has(id); n++) id = `${(usable[0] ?? fallback).slice(0, 60)}-${n}`;
    taken.add(id);
    return id;
  };
}

/** A title as a person would write it: `utensil-cuff_meshes` becomes `Utensil cuff meshes`. */
export function titleOf(text: string): string {
  const words = oneLine(text.replace(/[-_+.]+/g, ' ').replace(/([a-z])([A-Z])/g, '$1 $2'), 200)
    .replace(/ +/g, ' ')
    .trim();
  return words === '' ? 'Untitled' : words[0].toUpperCase() + words.slice(1);
}

/** The file's own name. */
export function baseName(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

/** The file's own name without its ending. */
export function stem(path: string): string {
  return baseName(path).replace(/\.[^.]*$/, '');
}

/**
 * A path that a manifest and every file system can hold: no controls, no separators of other systems, no lone
 * surrogates, no hidden steps, no more characters than fit.
 */
export function safePath(path: string): string {
  return path
    .split('/')
    .map(step => {
      const plain = step
        .replace(/[\p{Cc}\p{Cs}\p{Cf}\p{Zl}\p{Zp}\\:*?"<>|]/gu, '_')
        .replace(/^\.+/, '_')
        .replace(/[. ]+$/, '_');
      return [...plain].length <= 100 ? plain : shortened(plain);
    })
    .filter(step => step !== '')
    .slice(-4)
    .join('/');
}

function shortened(step: string): string {
  const ending = /\.[a-z0-9]{1,8}$/i.exec(step)?.[0] ?? '';
  return [...step].slice(0, 90).join('') + ending;
}

/**
 * Where files go below a folder: under their own names where these are different (whatever the case), else under
 * their paths, else with a number.
 */
export function placesBelow(folder: string, paths: readonly string[]): Map<string, string> {
  const counts = new Map<string, number>();
  for (const path of paths) {
    const key = safePath(baseName(path)).toLowerCase();
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const taken = new Set<string>();
  const places = new Map<string, string>();
  const inFolder = (path: string): string =>
    folder === '' ? path.replaceAll('/', '-') : `${folder}/${path}`;
  for (const path of paths) {
    const name = safePath(baseName(path));
    let place = inFolder((counts.get(name.toLowerCase()) ?? 0) > 1 ? safePath(path) : name);
    for (let n = 2; taken.has(place.toLowerCase()); n++)
      place = inFolder(safePath(path).replace(/(\.[^./]*)?$/, (ending: string) => `-${n}${ending}`));
    taken.add(place.toLowerCase());
    places.set(path, place);
  }
  return places;
}

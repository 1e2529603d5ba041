import { foldPath, isDeviceName } from '../../snapshot/portable-names.ts';
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

/**
 * A text as an id: lower-case letters, digits, single hyphens, at most 64; marks on letters are dropped. A folder may be
 * called so, which rules out the names of devices on Windows.
 */
export function idOf(text: string): string {
  const id = plainId(text);
  return isDeviceName(id) ? `${id}-1` : id;
}

function plainId(text: string): string {
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
 * surrogates, no hidden steps, no names of devices, no more characters than fit.
 */
export function safePath(path: string): string {
  return path
    .split('/')
    .map(step => {
      const plain = step
        .replace(/[\p{Cc}\p{Cs}\p{Cf}\p{Zl}\p{Zp}\\:*?"<>|]/gu, '_')
        .replace(/^\.+/, '_')
        .replace(/[. ]+$/, '_');
      const named = isDeviceName(plain) ? `_${plain}` : plain;
      return [...named].length <= 100 && Buffer.byteLength(named) <= mostBytes ? named : shortened(named);
    })
    .filter(step => step !== '')
    .slice(-4)
    .join('/');
}

/** The first characters of a name, as many as fit, and its ending. */
function shortened(step: string): string {
  const ending = /\.[a-z0-9]{1,8}$/i.exec(step)?.[0] ?? '';
  let text = '';
  for (const character of [...step].slice(0, 90)) {
    if (Buffer.byteLength(text + character) > mostBytes - ending.length) break;
    text += character;
  }
  return text.replace(/[. ]+$/, '_') + ending;
}

/** So that a number still fits behind it where 255 are allowed. */
const mostBytes = 240;

/**
 * Where files go below a folder: under their own names where these are different (whatever the case), else under
 * their paths, else with a number. No two files, and no file and a folder, have names that some systems take for one.
 */
export function placesBelow(folder: string, paths: readonly string[]): Map<string, string> {
  const counts = new Map<string, number>();
  for (const path of paths) {
    const key = foldPath(safePath(baseName(path)));
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const room = placeKeeper();
  const places = new Map<string, string>();
  const inFolder = (path: string): string =>
    folder === '' ? path.replaceAll('/', '-') : `${folder}/${path}`;
  for (const path of paths) {
    const name = safePath(baseName(path));
    let place = inFolder((counts.get(foldPath(name)) ?? 0) > 1 ? safePath(path) : name);
    const whole = inFolder(safePath(path));
    // Where a folder above is in the way, no number behind the name helps.
    const numbered = room.above(whole) ? safePath(path) : safePath(path).replaceAll('/', '-');
    for (let n = 2; !room.fits(place); n++)
      place = inFolder(numbered.replace(/(\.[^./]*)?$/, (ending: string) => `-${n}${ending}`));
    room.take(place);
    places.set(path, place);
  }
  return places;
}

/** Knows which paths can stand beside those taken, on systems that know no case as well. */
function placeKeeper() {
  const files = new Set<string>();
  const folders = new Map<string, string>();
  const foldersOf = (path: string): string[] => {
    const steps = path.split('/').slice(0, -1);
    return steps.map((_, k) => steps.slice(0, k + 1).join('/'));
  };
  const above = (path: string): boolean =>
    foldersOf(path).every(one => !files.has(foldPath(one)) && (folders.get(foldPath(one)) ?? one) === one);
  return {
    /** Whether the folders above a path can stand. */
    above,
    fits: (path: string): boolean =>
      above(path) && !files.has(foldPath(path)) && !folders.has(foldPath(path)),
    take(path: string): void {
      files.add(foldPath(path));
      for (const one of foldersOf(path)) folders.set(foldPath(one), one);
    },
  };
}

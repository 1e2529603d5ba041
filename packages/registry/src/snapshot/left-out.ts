import type { Note } from '@kinprint/mesh';

const shown = 5;

const sentences = {
  'link-skipped': ['symbolic link is', 'symbolic links are', 'not followed'],
  'submodule-skipped': ['submodule is', 'submodules are', 'not entered'],
  'special-skipped': ['special file is', 'special files are', 'not read'],
  'folder-unreadable': ['folder', 'folders', 'cannot be read'],
  'folder-missing': ['folder', 'folders', 'cannot be listed: its object is missing from the repository'],
  'folder-damaged': ['folder', 'folders', 'cannot be listed: its object is damaged'],
  'too-deep': ['folder is', 'folders are', 'nested too deep to be entered'],
} as const;

export type LeftOutCode = keyof typeof sentences;

/** Collects what a walk left out, so that a thousand links make one note and not a thousand. */
export interface LeftOut {
  add(code: LeftOutCode, path: string): void;
  notes(): Note[];
}

export function leftOut(): LeftOut {
  const paths = new Map<LeftOutCode, string[]>();
  return {
    add(code, path) {
      const list = paths.get(code);
      if (list === undefined) paths.set(code, [path]);
      else list.push(path);
    },
    notes() {
      return [...paths].map(([code, list]) => {
        const [one, many, what] = sentences[code];
        const names =
          list.slice(0, shown).join(', ') + (list.length > shown ? ` and ${list.length - shown} more` : '');
        return { code, text: `${list.length} ${list.length === 1 ? one : many} ${what}: ${names}.` };
      });
    },
  };
}

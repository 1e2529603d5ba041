/**
 * Insertions, deletions and replacements that turn one text into the other.
 *
 * @remarks R. A. Wagner, M. J. Fischer, "The String-to-String Correction Problem", J. ACM 21 (1974).
 */
export function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)));
    row = next;
  }
  return row[b.length];
}

/** Names beyond this length are compared by their beginnings: the cost grows with the square. */
const longest = 120;

/**
 * How alike two paths are, 0…1: nine tenths of it the file names without their endings, the rest the folders.
 * Symmetric. Common practice, no source.
 */
export function pathLikeness(a: string, b: string): number {
  const [folderA, nameA] = parts(a);
  const [folderB, nameB] = parts(b);
  return 0.9 * likeness(nameA, nameB) + 0.1 * likeness(folderA, folderB);
}

function likeness(a: string, b: string): number {
  const length = Math.max(a.length, b.length);
  return length === 0 ? 1 : 1 - editDistance(a, b) / length;
}

function parts(path: string): [string, string] {
  const slash = path.lastIndexOf('/');
  const name = path.slice(slash + 1).replace(/\.[^.]*$/, '');
  return [
    path.slice(0, Math.max(slash, 0)).toLowerCase().slice(0, longest),
    name.toLowerCase().slice(0, longest),
  ];
}

/** Texts in one order on every machine: by UTF-16 code unit. */
export function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

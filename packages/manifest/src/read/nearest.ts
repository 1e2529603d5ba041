/**
 * The candidate that a mistyped word most likely means, or null when none is near. Near: at most one wrong, missing,
 * added or swapped sign for every three of the word (optimal string alignment distance, Damerau 1964), letter case and
 * the kind of separator left aside. Ties go to the first.
 */
export function nearest(word: string, candidates: Iterable<string>): string | null {
  const wanted = plain(word);
  if (wanted === '' || wanted.length > 80) return null;
  const most = Math.max(1, Math.floor(wanted.length / 3));
  let best: string | null = null;
  let least = most + 1;
  for (const candidate of candidates) {
    const other = plain(candidate);
    if (Math.abs(other.length - wanted.length) >= least) continue;
    const apart = distance(wanted, other);
    if (apart < least) {
      best = candidate;
      least = apart;
    }
  }
  return best;
}

function plain(word: string): string {
  return word
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
}

function distance(a: string, b: string): number {
  let twoAgo: number[] = [];
  let ago = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min(ago[j] + 1, row[j - 1] + 1, ago[j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, twoAgo[j - 2] + 1);
      row.push(cost);
    }
    twoAgo = ago;
    ago = row;
  }
  return ago[b.length];
}

import { byText, editDistance } from '@kinprint/compare';

/**
 * The names most like what was typed, nearest first: for 'did you mean'.
 *
 * @param most how many at most
 * @remarks By edit distance, upper and lower case alike, up to a third of the length (at least 2), and names that
 *   contain what was typed. Names beyond 200 characters are left out: the cost grows with the square.
 */
export function nearestNames(typed: string, names: Iterable<string>, most = 3): string[] {
  const wanted = typed.toLowerCase();
  const limit = Math.max(2, Math.floor(wanted.length / 3));
  const near: { readonly name: string; readonly distance: number }[] = [];
  if (wanted.length === 0 || wanted.length > 200) return [];
  for (const name of names) {
    if (name.length > 200) continue;
    const lower = name.toLowerCase();
    const distance = Math.min(editDistance(wanted, lower), lower.includes(wanted) ? limit : Infinity);
    if (distance <= limit) near.push({ name, distance });
  }
  near.sort((a, b) => a.distance - b.distance || byText(a.name, b.name));
  return near.slice(0, most).map(item => item.name);
}

/** `Did you mean a or b? ` or nothing. */
export function didYouMean(names: readonly string[]): string {
  return names.length === 0 ? '' : `Did you mean ${names.map(name => `'${name}'`).join(' or ')}? `;
}

import type { Descent, Shape, Work } from './works.ts';

/** A descent between two works that are there, with what the shapes of its parts say together. */
export interface Link extends Descent {
  /** Of everything that came along. */
  readonly shape: Shape | null;
  /** Of what lies under the license of the older work as a whole: parts with a license of their own are judged by that. */
  readonly under: Shape | null;
  /**
   * Nothing that lies under the license of the older work as a whole became one with the newer: what came along lies in
   * it as it was, under licenses of its own, or all of it is judged part by part.
   */
  readonly collected: boolean;
}

export function linkOf(descent: Descent, newer: Work, older: Work): Link {
  const { parts, relation } = descent;
  if (parts === undefined) {
    const shape = descent.shape ?? null;
    const collected = descent.collection === true && shape !== 'changed' && shape !== 'restored';
    return { ...descent, shape, under: shape, collected };
  }
  const added = newer.parts.some(({ id }) => !parts.some(({ part }) => part === id));
  const licensedIn = ({ parts: all }: Work): Set<string> =>
    new Set(all.flatMap(part => (part.license === null ? [] : [part.id])));
  const [ownOlder, ownNewer] = [licensedIn(older), licensedIn(newer)];
  const under = parts.filter(({ from }) => !ownOlder.has(from));
  const shapes = under.map(({ shape }) => shape);
  return {
    ...descent,
    shape:
      descent.shape ??
      overall(
        parts.map(({ shape }) => shape),
        added,
      ),
    under: descent.shape ?? overall(shapes, added),
    collected:
      (parts.length > 0 && under.length === 0 && !added) ||
      (relation === 'combination' &&
        (descent.collection === true
          ? !shapes.includes('changed') && !shapes.includes('restored')
          : parts.length > 0 &&
            under.every(({ part, shape }) => shape === 'unchanged' && ownNewer.has(part)))),
  };
}

/** The strongest of several; null where one could not be told, and where parts were added to what is not changed. */
function overall(shapes: readonly (Shape | null)[], added: boolean): Shape | null {
  if (shapes.length === 0) return null;
  for (const strong of ['changed', 'restored'] as const) if (shapes.includes(strong)) return strong;
  if (added || shapes.includes(null)) return null;
  for (const plain of ['rescaled', 'mirrored'] as const) if (shapes.includes(plain)) return plain;
  return 'unchanged';
}

import type { Spot } from './spot.ts';

const rounding = 1e-6;

/**
 * Moves labels that would cover each other to the right, by as much as they are to be apart; the first ones stay.
 *
 * @param apart pixels between the middles of two labels
 */
export function sideBySide(spots: readonly Spot[], apart: number): Spot[] {
  const placed: Spot[] = [];
  for (const { x, y } of spots) {
    const at = { x, y };
    while (placed.some(other => Math.hypot(other.x - at.x, other.y - at.y) < apart - rounding)) at.x += apart;
    placed.push(at);
  }
  return placed;
}

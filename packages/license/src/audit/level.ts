import type { Link } from './link.ts';
import type { LicensePolicy } from './works.ts';

/**
 * How much of an older work is in a newer one, from least to most: none yet (the work itself and its earlier letters);
 * lying beside others in a pack; copied; plainly mirrored or rescaled, of which nobody has ruled whether it is an
 * adaptation; changed.
 */
export const levels = ['none', 'collected', 'copied', 'plain', 'changed'] as const;
export type Level = (typeof levels)[number];

export function higher(a: Level, b: Level): Level {
  return levels.indexOf(a) >= levels.indexOf(b) ? a : b;
}

/** What one link does. The shape, where it was looked at, decides over what was declared; then the registry's policy. */
export function levelOf(link: Link, policy: LicensePolicy): Level {
  const { relation, under: shape, collected } = link;
  if (relation === 'revision') return 'none';
  if (collected) return 'collected';
  if (relation === 'combination') return 'changed';
  if (shape === 'unchanged') return 'copied';
  if (shape === 'changed' || shape === 'restored') return 'changed';
  if (relation === 'remix' && shape !== 'mirrored' && shape !== 'rescaled') return 'changed';
  const plain = shape ?? relation;
  if (plain === 'mirrored' || plain === 'mirror') return settled(policy.mirrorIsAdaptation);
  if (plain === 'rescaled' || plain === 'rescale') return settled(policy.rescaleIsAdaptation);
  return 'copied';
}

function settled(isAdaptation: boolean | undefined): Level {
  return isAdaptation === undefined ? 'plain' : isAdaptation ? 'changed' : 'copied';
}

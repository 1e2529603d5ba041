import { parseRevisionAddress } from '@kinprint/manifest';
import { bareNode } from '../../lineage/bare-node.ts';
import { circlesOf } from '../../lineage/circles.ts';
import { indexLineage } from '../../lineage/lineage-index.ts';
import type { LineageGraph } from '../../lineage/types.ts';
import type { RegistryState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';

/**
 * Derivations that form a circle: a variant cannot have come from what came from it. A derivation hangs on a variant's
 * first letter and every later letter comes from it, so variants form a circle exactly when their letters do.
 */
export function circleFindings(state: RegistryState): Finding[] {
  const { circles, more } = circlesOf(indexLineage(variantGraph(state)));
  return circles.flatMap((circle, k) => {
    const variant = state.variants.get(circle[0]);
    const next = circle[1] ?? circle[0];
    const derivations = variant?.document.value?.derivations ?? [];
    const at = derivations.findIndex(derivation => ownAddress(derivation.from) === next);
    if (variant === undefined || at < 0) return [];
    const ring = [...circle, circle[0]].join(' from ');
    const rest = more && k === circles.length - 1 ? ' There are more circles than these.' : '';
    return [
      inManifest(
        variant,
        'derivation-circle',
        ['derivations', at, 'from'],
        circle.length === 1
          ? `The variant is said to derive from itself.${rest}`
          : `Derivations form a circle: ${ring}.${rest}`,
        circle.length === 1
          ? 'That a letter follows the one before needs no derivation: take it away.'
          : 'Take away the derivation that is wrong.',
      ),
    ];
  });
}

/** The address within this registry; null for one of a source. */
function ownAddress(from: string): string | null {
  const parts = parseRevisionAddress(from);
  return parts === null || parts.source !== null ? null : `${parts.device}/${parts.variant}`;
}

/** Variants as nodes, their derivations as edges. */
function variantGraph(state: RegistryState): LineageGraph {
  const nodes = [...state.variants.keys()].map(address => bareNode(address, null, 'unrecorded'));
  const edges = [...state.variants].flatMap(([from, variant]) =>
    (variant.document.value?.derivations ?? []).flatMap(({ from: older, relation, changes }) => {
      const to = ownAddress(older);
      return to === null ? [] : [{ from, to, relation, changes: changes ?? null, otherDigest: false }];
    }),
  );
  return { nodes, edges };
}

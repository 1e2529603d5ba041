import {
  circlesOf,
  danglingEnds,
  indexLineage,
  type CommonAncestors,
  type LineageGraph,
} from '@kinprint/registry';
import { outputSchemas } from '../json/json.ts';
import type { LineageAbout } from './about.ts';

/**
 * `kinprint lineage --json`.
 *
 * @param common the common ancestors asked for, or null
 */
export function lineageJson(
  graph: LineageGraph,
  about: LineageAbout,
  common: CommonAncestors | null,
): object {
  const { circles, more } = circlesOf(indexLineage(graph));
  return {
    schema: outputSchemas.lineage,
    registry: about.registry,
    chosen: about.chosen,
    nodes: graph.nodes,
    edges: graph.edges.map(({ otherDigest, ...edge }) => ({ ...edge, other_digest: otherDigest })),
    circles,
    more_circles: more,
    dangling: danglingEnds(graph).map(({ from, to }) => ({ from, to })),
    common_ancestors: common,
  };
}

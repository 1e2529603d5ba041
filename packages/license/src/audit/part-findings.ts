import type { AuditFinding } from './findings.ts';
import { layerFindings } from './judge-layers.ts';
import { changeFindings } from './marks.ts';
import { policyFindings } from './own.ts';
import type { PartGraph, PartLayers } from './parts.ts';
import type { LicensePolicy, Work } from './works.ts';

/**
 * What is to be said of single parts: each is judged by the license of the part that it came from, and not by that of
 * the variant around it. A no-derivatives part that lies unchanged in a changed variant is a copy in a collection.
 *
 * @param whole what was said of the work as a whole, which is not said again
 */
export function partFindings(
  graph: PartGraph,
  work: Work,
  parts: readonly PartLayers[],
  policy: LicensePolicy,
  whole: readonly AuditFinding[],
): AuditFinding[] {
  const marked = whole.some(({ code }) => code === 'change-not-indicated');
  return parts.flatMap(({ part, work: start, judged }) =>
    [
      ...policyFindings(graph, start, judged, policy).filter(
        ({ path }) => start.ownLicense || path.length > 0,
      ),
      ...layerFindings(graph, start, judged),
      ...(marked ? [] : changeFindings(graph, start, judged, policy)),
    ].map(finding => ({ ...finding, work: work.id, part })),
  );
}

import { creditsOwed } from './credits-owed.ts';
import { basisOf, finding, teller, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { layerVerdict } from './layer-verdict.ts';
import type { Level } from './level.ts';
import type { Layer } from './walk.ts';
import type { LicensePolicy, ShapeFact, Work } from './works.ts';

/**
 * Parts that have the shape of a part of somebody else, of which the lineage says nothing. A measurement proves likeness
 * and not descent, so the finding says what would follow, and a person decides which came from which.
 */
export function relativeFindings(
  graph: WorkGraph,
  work: Work,
  layers: readonly Layer[],
  facts: readonly ShapeFact[],
  policy: LicensePolicy,
): AuditFinding[] {
  const declared = new Set(layers.map(layer => layer.work.id));
  const own = layers.filter(layer => layer.own);
  const told = teller();
  for (const fact of facts) {
    const other = graph.works.get(fact.other.work);
    if (fact.work !== work.id || other === undefined || declared.has(other.id) || !isOlder(other, own))
      continue;
    // Relatives of a part are relatives of each other: one finding for the first, the strongest.
    told.tell(fact.part, other.id, () => relative(graph, work, other, fact, policy));
  }
  return told.findings();
}

/**
 * Whether the other one was there first, before every letter of ours: our shape may be that of our first letter, which
 * nobody looked at. The one without a date cannot be told to be older; what stands in a registry then counts as such.
 */
function isOlder(other: Work, own: readonly Layer[]): boolean {
  return own.every(({ work }) => other.date === null || work.date === null || other.date <= work.date);
}

function relative(
  graph: WorkGraph,
  work: Work,
  other: Work,
  fact: ShapeFact,
  policy: LicensePolicy,
): AuditFinding {
  const [from, to] = [graph.license(other), graph.license(work)];
  const level = levelFor(fact, policy);
  const verdict = from === null || to === null ? null : layerVerdict(from, to, level, work.published ?? true);
  const layer: Layer = {
    work: other,
    level,
    link: null,
    letter: false,
    absorbed: false,
    own: false,
    before: null,
  };
  const missing = creditsOwed(graph, work, [layer]).filter(credit => !credit.named && credit.duty !== null);
  const faults = [
    ...(verdict !== null && verdict.answer !== 'permitted'
      ? [
          `${other.id} is under ${other.license ?? 'no license'}, ${work.id} under ${work.license ?? 'no license'}. ${verdict.why}`,
        ]
      : []),
    ...(missing.length > 0
      ? [`${missing.map(credit => credit.name).join(', ')} would have to be named.`]
      : []),
  ];
  const broken = verdict?.answer === 'not-permitted' || missing.length > 0;
  // Plain parts may be alike in places without any descent.
  const severity = !broken ? 'warning' : fact.kinship === 'reworked' ? 'ask' : 'error';
  return finding(
    'undeclared-relative',
    work.id,
    [
      `${fact.part} has the shape of ${other.id}/${fact.other.part}: ${words(fact)}; the lineage does not say so.`,
      ...faults,
    ].join(' '),
    `Declare the derivation from ${other.id}, name its authors and keep to its license; or say how it came about otherwise.`,
    {
      part: fact.part,
      severity,
      basis: verdict === null || verdict.answer === 'permitted' ? null : basisOf(verdict),
    },
  );
}

function levelFor({ kinship }: ShapeFact, policy: LicensePolicy): Level {
  if (kinship === 'reworked') return 'changed';
  const settled = kinship === 'mirrored' ? policy.mirrorIsAdaptation : policy.rescaleIsAdaptation;
  if (kinship === 'mirrored' || kinship === 'rescaled')
    return settled === undefined ? 'plain' : settled ? 'changed' : 'copied';
  return 'copied';
}

function words({ kinship, scale }: ShapeFact): string {
  switch (kinship) {
    case 'same-shape':
      return 'the same shape';
    case 'moved':
      return 'the same shape at another place';
    case 'mirrored':
      return 'the same shape mirrored';
    case 'rescaled':
      return `the same shape after scaling${scale === null ? '' : ` by ${Number(scale.toPrecision(4))}`}`;
    case 'reworked':
      return 'the same shape in parts';
  }
}

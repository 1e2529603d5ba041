import { creditsOwed } from './credits-owed.ts';
import { basisOf, finding, teller, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { layerVerdict } from './layer-verdict.ts';
import type { Level } from './level.ts';
import type { Layer } from './walk.ts';
import type { PartGraph } from './parts.ts';
import type { DatedLetter, LicensePolicy, Relation, ShapeFact, Work } from './works.ts';

/**
 * Parts that have the shape of a part of somebody else, of which the lineage says nothing. A measurement proves likeness
 * and not descent, so the finding says what would follow, and a person decides. Who copied whom is judged by the dates
 * of letters: what has the older letter was there first. The younger one gets the finding, and the older one a note.
 */
export function relativeFindings(
  graph: WorkGraph,
  parts: PartGraph | null,
  work: Work,
  layers: readonly Layer[],
  factsOf: ReadonlyMap<string, readonly ShapeFact[]>,
  policy: LicensePolicy,
): AuditFinding[] {
  const declared = new Set(layers.map(layer => layer.work.id));
  // Who copied an ancestor of ours is told there.
  const toldAbove = new Set(
    layers
      .filter(layer => !layer.own)
      .flatMap(layer =>
        (factsOf.get(variantOf(layer.work.id)) ?? []).map(({ other }) => variantOf(other.work)),
      ),
  );
  const told = teller();
  for (const fact of factsOf.get(variantOf(work.id)) ?? []) {
    const other = graph.works.get(fact.other.work);
    if (fact.work !== work.id) continue;
    if (other === undefined || declared.has(other.id)) continue;
    const age = ageOf(fact);
    if (age === 'younger' && (fact.kinship === 'reworked' || toldAbove.has(variantOf(fact.other.work))))
      continue;
    // Relatives of a part are relatives of each other: one finding for the first, the strongest.
    told.tell(age === 'younger' ? variantOf(fact.other.work) : `${fact.part} ${age}`, other.id, () => {
      if (age === 'younger') return younger(work, other, fact);
      const [own, its] = [
        parts?.part(work.id, fact.part) ?? work,
        parts?.part(other.id, fact.other.part) ?? other,
      ];
      return relative(graph, work, { own, its, id: other.id }, fact, policy);
    });
  }
  return told.findings();
}

/** The variant of a work, whatever the letter. */
export function variantOf(id: string): string {
  return id.split('@')[0];
}

/** Whether theirs is the older or the younger one; what has no letter is younger than what has. */
function ageOf({ oldest: { ours, theirs } }: ShapeFact): 'older' | 'younger' | 'unknown' {
  const [own, its] = [ours?.date ?? 'none', theirs?.date ?? 'none'];
  return its < own ? 'older' : own < its ? 'younger' : 'unknown';
}

/** 'none' sorts after every date. */
function ageWords({ oldest: { ours, theirs } }: ShapeFact): string {
  const letter = (dated: DatedLetter): string => `${dated.work} of ${dated.date}`;
  if (ours === null || theirs === null) {
    const known = ours ?? theirs;
    return known === null
      ? 'Neither has a letter'
      : `${letter(known)} is the older letter, as the other has none`;
  }
  if (ours.date === theirs.date) return `Both have letters of ${ours.date}`;
  const [first, then] = theirs.date < ours.date ? [theirs, ours] : [ours, theirs];
  return `${letter(first)} is the older letter (${letter(then)} the younger)`;
}

function younger(work: Work, other: Work, fact: ShapeFact): AuditFinding {
  return finding(
    'younger-relative',
    work.id,
    `${other.id}/${fact.other.part} has the shape of ${fact.part}: ${words(fact)}; its lineage does not say so. ${ageWords(fact)}.`,
    `Nothing is to be mended here: ${other.id} should declare where the shape is from.`,
    { part: fact.part },
  );
}

function relative(
  graph: WorkGraph,
  work: Work,
  { own, its: other, id }: { readonly own: Work; readonly its: Work; readonly id: string },
  fact: ShapeFact,
  policy: LicensePolicy,
): AuditFinding {
  const [from, to] = [graph.license(other), graph.license(own)];
  const level = levelFor(fact, policy);
  const verdict = from === null || to === null ? null : layerVerdict(from, to, level, work.published ?? true);
  const layer: Layer = {
    work: other,
    level,
    link: null,
    letter: false,
    absorbed: false,
    restated: false,
    own: false,
    before: null,
  };
  const missing = creditsOwed(graph, work, [layer]).filter(credit => !credit.named && credit.duty !== null);
  const faults = [
    ...(verdict !== null && verdict.answer !== 'permitted'
      ? [
          `${other.id} is under ${other.license ?? 'no license'}, ${own.id} under ${own.license ?? 'no license'}. ${verdict.why}`,
        ]
      : []),
    ...(missing.length > 0
      ? [`${missing.map(credit => credit.name).join(', ')} would have to be named.`]
      : []),
  ];
  const broken = verdict?.answer === 'not-permitted' || missing.length > 0;
  // Plain parts may be alike in places without any descent.
  const sure = fact.kinship !== 'reworked' && ageOf(fact) === 'older';
  const severity = !broken ? 'warning' : sure ? 'error' : 'ask';
  return finding(
    'undeclared-relative',
    work.id,
    [
      `${fact.part} has the shape of ${id}/${fact.other.part}: ${words(fact)}; the lineage does not say so.`,
      `${ageWords(fact)}.`,
      ...faults,
    ].join(' '),
    `Declare the derivation from ${id}, name its authors and keep to its license; or say how it came about otherwise.`,
    {
      part: fact.part,
      severity,
      basis: verdict === null || verdict.answer === 'permitted' ? null : basisOf(verdict),
      undeclared: { relation: relationFor(fact), to: id },
    },
  );
}

/** What the derivation would be called. */
function relationFor({ kinship }: ShapeFact): Relation {
  if (kinship === 'mirrored') return 'mirror';
  if (kinship === 'rescaled') return 'rescale';
  return kinship === 'reworked' ? 'remix' : 'copy';
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

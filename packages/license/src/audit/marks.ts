import { unavoidable } from './duties-of.ts';
import { basisOf, finding, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { levelOf } from './level.ts';
import { pathTo, type Layer } from './walk.ts';
import type { Link } from './link.ts';
import type { LicensePolicy, Relation, Shape, Work } from './works.ts';

/** What the work itself says of the works that it came from directly: changes indicated, notices kept, shapes as claimed. */
export function markFindings(
  graph: WorkGraph,
  work: Work,
  layers: readonly Layer[],
  policy: LicensePolicy,
): AuditFinding[] {
  return directLayers(graph, layers).flatMap(layer => [
    ...changeMark(graph, work, layer, policy),
    ...noticesKept(graph, work, layer),
    ...shapeClaims(work, layer),
  ]);
}

/** Only whether changes are indicated. */
export function changeFindings(
  graph: WorkGraph,
  work: Work,
  layers: readonly Layer[],
  policy: LicensePolicy,
): AuditFinding[] {
  return directLayers(graph, layers).flatMap(layer => changeMark(graph, work, layer, policy));
}

/** Every link that hangs on the work or one of its letters, also where two lead to the same older work. */
function directLayers(graph: WorkGraph, layers: readonly Layer[]): Layer[] {
  const own = new Map(
    layers.filter(layer => layer.own && !layer.restated).map(layer => [layer.work.id, layer]),
  );
  return [...own.values()].flatMap(before =>
    (graph.older.get(before.work.id) ?? []).flatMap((link): Layer[] => {
      const work = graph.works.get(link.to);
      if (work === undefined || link.relation === 'revision') return [];
      return [
        { work, link, before, level: 'none', letter: false, absorbed: false, restated: false, own: false },
      ];
    }),
  );
}

function changeMark(graph: WorkGraph, work: Work, layer: Layer, policy: LicensePolicy): AuditFinding[] {
  const { link, work: older } = layer;
  if (link === null || (link.changes ?? '').trim() !== '') return [];
  const level = levelOf(link, policy);
  const license = graph.license(older);
  if (license === null || (level !== 'changed' && level !== 'plain')) return [];
  const duty = unavoidable(license, 'mark-changes', ['adapt']);
  if (duty === null) return [];
  return [
    finding(
      'change-not-indicated',
      work.id,
      `${work.id} does not say what was changed of ${older.id}.`,
      'Say it in a sentence, at the derivation in its manifest (changes:).',
      // Whether a plain mirror image counts as changed is open; that the duty is broken is then not certain either.
      { path: pathTo(layer), basis: basisOf(duty), severity: level === 'plain' ? 'warning' : 'error' },
    ),
  ];
}

function noticesKept(graph: WorkGraph, work: Work, layer: Layer): AuditFinding[] {
  const license = graph.license(layer.work);
  const duty = license === null ? null : unavoidable(license, 'notices', ['share']);
  const kept = new Set(work.notices ?? []);
  const dropped = (layer.work.notices ?? []).filter(name => !kept.has(name));
  if (duty === null || dropped.length === 0) return [];
  return [
    finding(
      'notice-dropped',
      work.id,
      `${dropped.join(', ')} of ${layer.work.id} did not come along.`,
      `Copy it into the folder of ${work.id}.`,
      {
        path: pathTo(layer),
        basis: basisOf(duty),
      },
    ),
  ];
}

/** The meshes decide what the manifest claims. */
function shapeClaims(work: Work, layer: Layer): AuditFinding[] {
  const { link, work: older } = layer;
  if (link === null) return [];
  const { relation, shape } = link;
  const path = pathTo(layer);
  if (link.restated !== true && understated(relation, shape))
    return [
      finding(
        'more-than-declared',
        work.id,
        `${work.id} is declared a ${relation} of ${older.id}, and ${changedWords(link)}.`,
        `Declare it a remix and say what was changed, or restore the ${relation}.`,
        { path },
      ),
    ];
  if (shape === 'unchanged' && ['mirror', 'rescale', 'remix'].includes(relation))
    return [
      finding(
        'unchanged-copy',
        work.id,
        `${work.id} is declared a ${relation} of ${older.id}, and its shape is the same: it counts as a copy.`,
        'Declare it a copy, unless something else was changed.',
        { path },
      ),
    ];
  return [];
}

/** A rescale brings interfaces back to size; whatever else is reworked makes another thing of it. */
function understated(relation: Relation, shape: Shape | null): boolean {
  switch (relation) {
    case 'copy':
      return shape !== null && shape !== 'unchanged';
    case 'mirror':
      return shape === 'changed' || shape === 'restored' || shape === 'rescaled';
    case 'rescale':
      return shape === 'changed' || shape === 'mirrored';
    case 'remix':
    case 'combination':
    case 'revision':
      return false;
  }
}

function changedWords({ shape, parts = [] }: Link): string {
  const names = parts.filter(part => part.shape === shape).map(({ part }) => part);
  const what = {
    unchanged: 'is the same',
    mirrored: 'is its mirror image',
    rescaled: 'is it at another size',
    restored: 'was scaled, with interfaces brought back to size',
    changed: 'was reworked',
  }[shape ?? 'changed'];
  return names.length === 0 ? `its shape ${what}` : `its ${names.join(', ')} ${what}`;
}

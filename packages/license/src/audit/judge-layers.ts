import { expressionText, termsOf, type Expression } from '../expression/tree.ts';
import { choicesOf } from '../rules/choices.ts';
import type { Judgement } from '../rules/judge.ts';
import type { Family } from '../rules/types.ts';
import { unavoidable } from './duties-of.ts';
import { basisOf, finding, teller, type AuditCode, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { layerVerdict } from './layer-verdict.ts';
import { levels } from './level.ts';
import { pathTo, type Layer } from './walk.ts';
import { coveredByParts, type Work } from './works.ts';

/** For every older work whose license still counts: is what became of it allowed under that license? */
export function layerFindings(graph: WorkGraph, work: Work, layers: readonly Layer[]): AuditFinding[] {
  const to = graph.license(work);
  if (to === null) return [];
  // The strongest way in which a work is held decides; of two equal ones the nearer.
  const strongest = new Map<string, Layer>();
  for (const layer of layers) {
    if (layer.own || layer.letter || layer.absorbed) continue;
    const before = strongest.get(layer.work.id);
    if (before === undefined || levels.indexOf(layer.level) > levels.indexOf(before.level))
      strongest.set(layer.work.id, layer);
  }
  const told = teller();
  const judged = new Map<string, Judgement>();
  for (const layer of strongest.values()) {
    const made = layerFinding(graph, work, to, layer, judged);
    if (made === null) continue;
    // The same fault further up the line is the same thing to be mended.
    told.tell(`${made.code} ${layer.level} ${layer.work.license ?? ''}`, layer.work.id, () => ({
      ...made,
      path: pathTo(layer),
    }));
  }
  return told.findings();
}

function layerFinding(
  graph: WorkGraph,
  work: Work,
  to: Expression,
  layer: Layer,
  judged: Map<string, Judgement>,
): AuditFinding | null {
  const older = layer.work;
  if (!older.known)
    return finding(
      'ancestor-unknown',
      work.id,
      `Nothing is known of ${older.id}, so its license cannot be looked at.`,
      'Fetch the registry that holds it (kinprint audit --sources), or ask its authors.',
    );
  const from = graph.license(older);
  if (from === null)
    return finding(
      'ask-a-person',
      work.id,
      `The license of ${older.id}, '${older.license ?? ''}', cannot be read.`,
      'Mend the license expression there.',
    );
  // Its parts are judged one by one.
  if (older.license === null && coveredByParts(older)) return null;
  if (layer.link?.interfaceOnly === true && familiesOf(from).every(family => family === 'cern-w'))
    return null;
  const published = work.published ?? true;
  const key = `${layer.level} ${expressionText(from)}`;
  const verdict = judged.get(key) ?? layerVerdict(from, to, layer.level, published);
  judged.set(key, verdict);
  const basis = basisOf(verdict);
  const restored =
    layer.level === 'changed' && layer.link?.under === 'restored'
      ? ' Interfaces were brought back to size, which is a change.'
      : '';
  const names = `${older.id} is under ${licenseWords(from)}, ${work.id} under ${licenseWords(to)}.${restored}`;
  switch (verdict.answer) {
    case 'permitted':
      if (!verdict.choice) return null;
      return finding(
        'branch-chosen',
        work.id,
        `${older.id} offers a choice of licenses; what is done here rests on ${verdict.chosen}.`,
        'Meet the duties of that license.',
        { basis },
      );
    case 'not-recommended':
      return finding(
        'two-licenses',
        work.id,
        `${names} ${verdict.why}`,
        `State both licenses wherever ${work.id} is passed on.`,
        { basis },
      );
    case 'ask':
      return finding('ask-a-person', work.id, `${names} ${verdict.why}`, askRemedy(layer), { basis });
    case 'not-permitted':
      return finding(
        codeOf(from, to, layer),
        work.id,
        `${names} ${verdict.why}`,
        remedyOf(from, layer, published),
        { basis },
      );
  }
}

function licenseWords(expression: Expression): string {
  return familiesOf(expression).includes('reserved') && expression.kind === 'license'
    ? 'no license'
    : expressionText(expression);
}

function familiesOf(expression: Expression): Family[] {
  return termsOf(expression).map(term => choicesOf(term)[0].license.family);
}

function codeOf(from: Expression, to: Expression, { level }: Layer): AuditCode {
  const older = termsOf(from).map(term => choicesOf(term)[0].license);
  if (older.some(license => license.family === 'reserved')) return 'no-permission';
  if (level === 'collected') return 'cannot-combine';
  if (level === 'copied') return 'copy-relabeled';
  if (older.some(license => license.adapt.may !== 'share')) return 'no-derivatives';
  const kin = (a: (typeof older)[number], b: (typeof older)[number]): boolean =>
    a.family === b.family && a.elements === b.elements && a.version !== b.version;
  const newer = termsOf(to).map(term => choicesOf(term)[0].license);
  if (older.length === 1 && newer.length === 1 && kin(older[0], newer[0])) return 'version-not-allowed';
  return unavoidable(from, 'same-license', ['adapt']) === null ? 'license-clash' : 'share-alike';
}

function remedyOf(from: Expression, { work, level }: Layer, published: boolean): string {
  if (work.license === null)
    return `Ask the authors of ${work.id} for a license; until then share nothing made from it.`;
  if (level === 'copied') return `Put the copy under ${expressionText(from)}, as it was.`;
  if (level === 'collected') return `Leave ${work.id} out of the pack, or ask its authors.`;
  if (layerVerdict(from, from, level, published).answer === 'permitted')
    return `Put it under ${expressionText(from)}, or ask the authors of ${work.id} for permission.`;
  return `Pass on ${work.id} unchanged and say in words what to change, or ask its authors for permission.`;
}

function askRemedy({ level }: Layer): string {
  return level === 'plain'
    ? 'Ask the authors, or settle it in registry.yaml: policy.licenses.mirror_is_adaptation, rescale_is_adaptation.'
    : 'Read the license with somebody who knows, or ask the authors.';
}

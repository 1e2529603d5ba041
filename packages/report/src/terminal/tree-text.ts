import type { Comparison, PartComparison, TreeComparison } from '@kinprint/compare';
import { alignmentText, changeText, compareText } from './compare-text.ts';
import { paints, row, shorten, type Style, width, wrap } from './layout.ts';
import { paintVerdict, verdictColumns } from './verdict-text.ts';
import { clean, num, plural, signed } from './words.ts';

/** A comparison of two trees: one line a part, changed ones first; the total; then the details of what changed. */
export function treeText(title: string, tree: TreeComparison, style: Style): string {
  const paint = paints(style);
  const lines = [paint.bold(clean(title)), ''];
  const room = style.columns - verdictColumns - 2;
  const names = tree.parts.map(part => clean(partName(part)));
  const nameColumns = Math.min(Math.floor(room * 0.55), Math.max(...names.map(width), 4));
  tree.parts.forEach((part, k) => {
    const name = shorten(names[k] ?? '', nameColumns);
    const head = `${paintVerdict(part.verdict, style)}  ${name}`;
    const summary = wrap(clean(partSummary(part)), Math.max(20, room - nameColumns - 2));
    const left = ' '.repeat(verdictColumns + 2 + nameColumns + 2);
    summary.forEach((line, n) => {
      if (n === 0)
        lines.push(`${head}${' '.repeat(Math.max(0, nameColumns - width(name)))}  ${line}`.trimEnd());
      else lines.push(left + line);
    });
  });
  lines.push('', totalText(tree));
  for (const note of tree.notes) lines.push(row('note', clean(note.text), style, 0, 6));
  for (const part of tree.parts) {
    if (part.comparison === null || part.verdict === 'identical' || part.verdict === 'same-shape') continue;
    lines.push('', compareText(detailTitle(part), part.comparison, style));
  }
  return lines.join('\n');
}

/** The part's path now; the one it had when it is gone. */
export function partName(part: PartComparison): string {
  return part.after ?? part.before ?? '';
}

function detailTitle(part: PartComparison): string {
  return part.before === null || part.before === part.after
    ? partName(part)
    : `${part.before} → ${partName(part)}`;
}

/** How the two were found to belong together, where the path does not say it. */
function pairingText(part: PartComparison): string {
  const from = part.before === part.after ? '' : ` ${part.before ?? ''}`;
  switch (part.pairing) {
    case 'path':
    case 'added':
    case 'removed':
      return '';
    case 'content':
      return `was${from}`;
    case 'shape':
      return `was${from}, known by its shape`;
    case 'copy':
      return `copy of${from}`;
    case 'split':
      return `split off${from}`;
    case 'gathered':
      return `holds${from}`;
  }
}

function partSummary(part: PartComparison): string {
  const parts = [pairingText(part), part.problem === null ? '' : part.problem.text];
  if (part.comparison !== null) parts.push(changeSummary(part.comparison));
  return parts.filter(Boolean).join('; ');
}

/** What changed, in a few words: material, then the first bores, then the motion. */
export function changeSummary(c: Comparison): string {
  const words: string[] = [];
  const { added_mm3, removed_mm3 } = c.volume;
  if (added_mm3 !== null && removed_mm3 !== null && added_mm3 + removed_mm3 > 0) {
    if (added_mm3 > 0) words.push(`${signed(added_mm3, 1)} mm³`);
    if (removed_mm3 > 0) words.push(`${signed(-removed_mm3, 1)} mm³`);
  }
  const rounds = c.features.changed.filter(f => f.after.kind !== 'plane');
  for (const change of rounds.slice(0, 2)) words.push(changeText(change).replace(/ at \(.*$/, ''));
  if (rounds.length > 2) words.push(plural(rounds.length - 2, 'more feature', 'more features'));
  const bores = (list: readonly { kind: string }[]): number => list.filter(f => f.kind === 'bore').length;
  if (bores(c.features.added) > 0) words.push(`${plural(bores(c.features.added), 'bore')} appeared`);
  if (bores(c.features.removed) > 0) words.push(`${plural(bores(c.features.removed), 'bore')} gone`);
  const { before_mm, after_mm } = c.thinnest_wall;
  if (before_mm !== null && after_mm !== null && after_mm < before_mm - c.tolerance_mm)
    words.push(`wall ${num(before_mm)} → ${num(after_mm)}`);
  if (c.verdict !== 'replaced' && c.alignment.kind !== 'identity' && c.alignment.kind !== 'none')
    words.push(alignmentText(c.alignment));
  return words.join(', ');
}

function totalText(tree: TreeComparison): string {
  const { parts, ...byVerdict } = tree.totals;
  const counts = Object.entries(byVerdict).filter(([, n]) => n > 0);
  return `${plural(parts, 'part')}: ${counts.map(([verdict, n]) => `${n} ${verdict}`).join(', ') || 'nothing to compare'}`;
}

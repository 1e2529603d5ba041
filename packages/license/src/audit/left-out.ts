import { finding, type AuditFinding } from './findings.ts';
import type { LeftOut } from './works.ts';

/**
 * That not all shapes were compared: one finding for the whole audit, told at the first work audited that it concerns,
 * or else at the first one (the shapes may be those of what it came from).
 */
export function leftOutFinding(targets: readonly string[], left: readonly LeftOut[]): AuditFinding | null {
  const parts = new Map<string, Set<string>>();
  let comparisons = 0;
  for (const { work, part, shapes } of left) {
    parts.set(work, (parts.get(work) ?? new Set()).add(part));
    comparisons += shapes;
  }
  const concerned = [
    ...targets.filter(id => parts.has(id)),
    ...[...parts.keys()].filter(id => !targets.includes(id)),
  ];
  if (comparisons === 0) return null;
  const [first] = concerned;
  const at = targets.includes(first) ? first : targets[0];
  const address = first.split('@')[0];
  const alone = targets.length === 1;
  return finding(
    'not-compared',
    at,
    `One audit compares only so many shapes, the nearest first. ${said(comparisons)} of near shapes ${comparisons === 1 ? 'was' : 'were'} left out: of ${first} with its ${[...(parts.get(first) ?? [])].join(', ')}${concerned.length > 1 ? `, and of ${concerned.length - 1} more` : ''}.`,
    alone
      ? `Look at each part by itself: kinprint kin ${address}/${[...(parts.get(first) ?? [])][0]}.`
      : `Audit them one by one, which compares as much for each: kinprint audit ${address}.`,
    { also: concerned.filter(id => id !== at) },
  );
}

function said(comparisons: number): string {
  return comparisons === 1 ? '1 comparison' : `${comparisons} comparisons`;
}

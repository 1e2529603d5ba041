import { adaptationVerdict } from './adaptation.ts';
import { derived, read } from './basis.ts';
import { combinationCell } from './charts.ts';
import type { Choice } from './choices.ts';
import { licenses } from './find-license.ts';
import type { License, Verdict } from './types.ts';

/**
 * May works under these two licenses be blended into one work? Symmetric. Within Creative Commons the published chart
 * says so. Elsewhere it is worked out: there must be a license that a changed version of either may carry.
 */
export function combinationVerdict(a: License, b: License): Verdict {
  const charted = charts(a, b);
  if (charted !== null) return charted;
  for (const license of [a, b])
    if (license.family === 'reserved')
      return { ...license.collect, why: 'For one of them no license is stated, so nothing is granted.' };
  for (const license of [a, b]) if (license.family === 'unknown') return license.collect;
  const pair = new Set([a.family, b.family]);
  if (pair.has('gpl') && pair.has('agpl') && a.version === b.version && a.version === '3.0')
    return {
      answer: 'permitted',
      why: 'Parts under both may be joined, and each keeps its license.',
      ...read('GPL-3.0 13; AGPL-3.0 13'),
    };
  if (a.id === b.id && a.adapt.may === 'share')
    return { answer: 'permitted', why: 'Both are under the same license.', ...derived('grant of rights') };
  const target = commonLicense(a, b);
  const basis = derived(`changed versions of ${a.id} and of ${b.id}`, 'table of moves');
  return target === null
    ? {
        answer: 'not-permitted',
        why: `There is no license that the blend of ${a.id} and ${b.id} could carry.`,
        ...basis,
      }
    : { answer: 'permitted', why: `The blend may carry ${target.id}.`, ...basis };
}

function charts(a: License, b: License): Verdict | null {
  if (a.elements === null || b.elements === null) return null;
  const answer = combinationCell(a.elements, b.elements);
  return {
    answer,
    why:
      answer === 'permitted'
        ? `${a.elements} and ${b.elements} may be blended.`
        : `${a.elements} and ${b.elements} cannot be blended into one work.`,
    ...read(`combination chart, ${a.elements} and ${b.elements}`, 'Creative Commons FAQ'),
  };
}

/** A license that changed versions of both may carry, without a warning if there is one; their own come first. */
function commonLicense(a: License, b: License): License | null {
  const choice = (license: License): Choice => ({ license, later: false, exception: null });
  const fits = (to: License, answers: readonly string[]): boolean =>
    [a, b].every(from => answers.includes(adaptationVerdict(choice(from), choice(to)).answer));
  const candidates = [a, b, ...licenses];
  return (
    candidates.find(to => fits(to, ['permitted'])) ??
    candidates.find(to => fits(to, ['permitted', 'not-recommended', 'ask'])) ??
    null
  );
}

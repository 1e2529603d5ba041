import { read } from './basis.ts';
import { versionRules } from './cc.ts';
import { adapterCell } from './charts.ts';
import type { Choice } from './choices.ts';
import { pdmOnNewWork } from './find-license.ts';
import { worst } from './grade.ts';
import { moveOf } from './moves.ts';
import type { Answer, License, Verdict } from './types.ts';

/** May a changed version of a work under `from` be passed on under `to`? Both are single licenses of one version. */
export function adaptationVerdict(from: Choice, to: Choice): Verdict {
  const verdict = exceptAdded(from, to);
  return to.license.elements === 'PDM' ? worst([verdict, pdmOnNewWork]) : verdict;
}

/** Exceptions only add permissions: what the license forbids, the exception may allow. */
function exceptAdded(from: Choice, to: Choice): Verdict {
  const verdict = versioned(from, to);
  if (from.exception === null || from.exception === to.exception || verdict.answer !== 'not-permitted')
    return verdict;
  return {
    ...verdict,
    answer: 'ask',
    why: `${verdict.why} Whether ${from.exception} allows it must be read there.`,
  };
}

function versioned(from: Choice, to: Choice): Verdict {
  const same = from.license.id === to.license.id;
  if (from.later) {
    if (same && to.later)
      return { answer: 'permitted', why: 'Both leave later versions open.', ...read('or any later version') };
    return {
      ...licenseVerdict(from.license, to.license),
      answer: 'not-permitted',
      why: 'A version that is not written yet cannot be chosen.',
    };
  }
  const verdict = same && to.later ? sameLater(from.license) : licenseVerdict(from.license, to.license);
  const reciprocal = from.license.duties.some(duty => duty.kind === 'same-license');
  if (!to.later || same || !reciprocal || verdict.answer === 'not-permitted') return verdict;
  return promisesMore(verdict, to.license);
}

/** The same license, with later versions offered. */
function sameLater(license: License): Verdict {
  const verdict = licenseVerdict(license, license);
  if (verdict.answer === 'not-permitted') return verdict;
  const reciprocal = license.duties.some(duty => duty.kind === 'same-license');
  if (!reciprocal || laterAllowed(license)) return verdict;
  return promisesMore(verdict, license);
}

function promisesMore(verdict: Verdict, license: License): Verdict {
  return {
    ...verdict,
    answer: 'ask',
    why: `The label offers versions after ${license.id}, and the older work is offered under that version only.`,
  };
}

function laterAllowed(license: License): boolean {
  return versionRules.some(
    rule => rule.elements === license.elements && rule.version === license.version && rule.later,
  );
}

function licenseVerdict(from: License, to: License): Verdict {
  if (from.elements === null || to.elements === null || from.family === 'public-domain')
    return moveOf(from, to);
  const answer = adapterCell(from.elements, to.elements);
  const basis = read(`adapter chart, ${from.elements} to ${to.elements}`, 'Creative Commons FAQ');
  if (answer !== 'permitted' || from.elements !== to.elements || !from.elements.includes('SA'))
    return { answer, why: chartWords(from, to, answer), ...basis };
  return versionVerdict(from, to);
}

/** Share-alike with the same elements: this version, or later where the text says so. */
function versionVerdict(from: License, to: License): Verdict {
  if (from.id === to.id) return moveOf(from, to);
  const rule = versionRules.find(r => r.elements === from.elements && r.version === from.version);
  if (rule === undefined) throw new Error(`No version rule for ${from.id}.`);
  const { clause, source, sure } = rule;
  const ahead = Number(to.version) - Number(from.version);
  if (ahead === 0)
    return rule.ports
      ? {
          answer: 'permitted',
          why: 'The same license, written for another jurisdiction.',
          clause,
          source,
          sure: 'derived',
        }
      : { answer: 'ask', why: 'The text names no license of another jurisdiction.', clause, source, sure };
  if (ahead < 0)
    return { answer: 'not-permitted', why: 'An earlier version cannot be chosen.', clause, source, sure };
  if (!rule.later)
    return {
      answer: 'not-permitted',
      why: `Version ${from.version} does not allow a later one.`,
      clause,
      source,
      sure,
    };
  return {
    answer: 'permitted',
    why: 'A later version with the same elements may be chosen.',
    clause,
    source,
    sure,
  };
}

function chartWords(from: License, to: License, answer: Answer): string {
  if (answer === 'permitted') return `An adaptation of ${from.id} may carry ${to.id}.`;
  if (answer === 'not-recommended')
    return `${to.id} covers the new layer only; whoever uses it must obey ${from.id} as well: show both.`;
  if (from.elements?.includes('ND') === true) return 'A changed version may not be shared.';
  return `A changed version must stay under ${from.elements ?? ''}, or a license named compatible with it.`;
}

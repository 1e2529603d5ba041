import { alternativesOf } from '../expression/alternatives.ts';
import { expressionText, termText, type Expression } from '../expression/tree.ts';
import { derived, memory } from '../rules/basis.ts';
import { choicesOf, type Choice } from '../rules/choices.ts';
import { best, worst } from '../rules/grade.ts';
import type { Judgement } from '../rules/judge.ts';
import type { Answer, Basis, DutyKind, Verdict } from '../rules/types.ts';
import { creditsOwed, namesOn, plainName } from './credits-owed.ts';
import { unavoidable } from './duties-of.ts';
import type { PathStep } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { pathTo, type Layer } from './walk.ts';
import type { PartLayers, PartWork } from './parts.ts';
import { coveredByParts, type Work } from './works.ts';

/**
 * What somebody wants to do with prints of a work: use one at home; have a clinic hand them out; sell them; make them in
 * a class.
 */
export const uses = ['personal', 'clinic', 'sale', 'class'] as const;
export type Use = (typeof uses)[number];

/** The answer for a work and everything in it. */
export interface UseAnswer {
  readonly use: Use;
  readonly work: string;
  readonly answer: Answer;
  /** Everybody who must be named on what goes along, the authors of the work first; empty for use at home. */
  readonly names: readonly string[];
  /** Why not, or why a person must decide; one for every license that stands in the way. */
  readonly reasons: readonly UseReason[];
  /** Duties that come with it, by kind, with the works that ask for them. */
  readonly duties: readonly {
    readonly kind: DutyKind;
    readonly text: string;
    readonly works: readonly string[];
    readonly basis: Basis;
  }[];
}

export interface UseReason extends Verdict {
  readonly work: string;
  readonly license: string;
  readonly path: readonly PathStep[];
}

/** May a work be used so? Its own license counts, that of every part, and those of all that it came from. */
export function useAnswer(
  graph: WorkGraph,
  work: Work,
  whole: readonly Layer[],
  parts: readonly PartLayers[],
  use: Use,
): UseAnswer {
  const layers = [
    ...whole,
    ...parts.flatMap(part => part.judged.filter(({ before, work: at }) => before !== null && ownLicense(at))),
  ];
  const reasons = new Map<string, UseReason>();
  const duties = new Map<string, { kind: DutyKind; text: string; works: Set<string>; basis: Basis }>();
  const answers: Verdict[] = [];
  for (const layer of layers) {
    if (layer.letter) continue;
    for (const license of licensesIn(layer, work)) {
      const expression = layer.work.known ? graph.license({ license }) : null;
      const verdict = expression === null ? unread(layer.work) : useVerdict(expression, use);
      answers.push(verdict);
      const key = `${license ?? ''} ${verdict.answer} ${verdict.why}`;
      if (verdict.answer !== 'permitted' && !reasons.has(key))
        reasons.set(key, {
          ...verdict,
          work: layer.work.id,
          license: license ?? 'no license',
          path: pathTo(layer),
        });
      if (expression !== null && use !== 'personal') addDuties(duties, expression, layer.work.id);
    }
  }
  const { answer } = answers.length === 0 ? { answer: 'permitted' as const } : worst(answers);
  return {
    use,
    work: work.id,
    answer,
    names:
      use === 'personal' ? [] : namesFor(graph, work, [...whole, ...parts.flatMap(part => part.authored)]),
    reasons: [...reasons.values()],
    duties: [...duties.values()].map(duty => ({ ...duty, works: [...duty.works] })),
  };
}

function namesFor(graph: WorkGraph, work: Work, layers: readonly Layer[]): string[] {
  const owed = creditsOwed(graph, work, layers).filter(credit => credit.duty !== null);
  const all = [...namesOn(work), ...owed.map(credit => credit.name)];
  const named = new Map<string, string>();
  for (const name of all) if (!named.has(plainName(name))) named.set(plainName(name), name);
  return [...named.values()];
}

function ownLicense(work: Work): boolean {
  return (work as Partial<PartWork>).ownLicense === true;
}

/** Those of its parts only of the work itself: what parts came from is looked at part by part. */
function licensesIn({ work: at }: Layer, work: Work): (string | null)[] {
  const parts = at === work ? at.parts.flatMap(part => (part.license === null ? [] : [part.license])) : [];
  return [...(at.license === null && coveredByParts(at) ? [] : [at.license]), ...parts];
}

/** Of a choice of licenses the best counts. */
export function useVerdict(expression: Expression, use: Use): Judgement {
  const alternatives = alternativesOf(expression);
  if (alternatives === null)
    return {
      answer: 'ask',
      why: 'The license expression has too many alternatives.',
      chosen: expressionText(expression),
      choice: true,
      ...memory('none', 'a bound of this program'),
    };
  return best(
    alternatives.map((terms): Judgement => ({
      ...worst(terms.map(term => best(choicesOf(term).map(choice => choiceVerdict(choice, use))))),
      chosen: terms.map(termText).join(' AND '),
      choice: alternatives.length > 1,
    })),
  );
}

function choiceVerdict({ license }: Choice, use: Use): Verdict {
  const { may, why, ...basis } = license.commercial;
  if (license.family === 'reserved') return { answer: 'not-permitted', why, ...basis };
  if (license.family === 'unknown') return { answer: 'ask', why, ...basis };
  if (may || use === 'personal')
    return { answer: 'permitted', why: may ? why : 'Use at home is not commercial.', ...basis };
  if (use === 'sale')
    return {
      answer: 'not-permitted',
      why: `Selling is mainly aimed at payment; whether a charity that only covers its cost is, a person must judge. ${why}`,
      ...basis,
    };
  // The purpose of the use decides, not whether it is a charity or a company (CC FAQ, section on NonCommercial).
  const who =
    use === 'clinic'
      ? 'Handing out prints without charge is no sale; whether a fee, a treatment that is paid for or cost covered makes it commercial'
      : 'A class without fees is no sale; whether a paid course makes it commercial';
  return {
    answer: 'ask',
    why: `${who} must be judged by a person. ${why}`,
    ...derived(`${basis.clause}; FAQ, section on NonCommercial`, 'Creative Commons FAQ'),
  };
}

function unread(work: Work): Verdict {
  return {
    answer: 'ask',
    why: work.known ? `The license of ${work.id} cannot be read.` : `Nothing is known of ${work.id}.`,
    ...memory('none', 'what the registry holds'),
  };
}

/** What must go along with a print: only what nobody can choose to be without. */
function addDuties(
  duties: Map<string, { kind: DutyKind; text: string; works: Set<string>; basis: Basis }>,
  expression: Expression,
  id: string,
): void {
  for (const kind of ['credit', 'notices', 'license-link', 'license-text', 'source'] as const) {
    const duty = unavoidable(expression, kind, ['share', 'print']);
    if (duty === null) continue;
    const before = duties.get(duty.text);
    if (before === undefined)
      duties.set(duty.text, {
        kind,
        text: duty.text,
        works: new Set([id]),
        basis: { clause: duty.clause, source: duty.source, sure: duty.sure },
      });
    else before.works.add(id);
  }
}

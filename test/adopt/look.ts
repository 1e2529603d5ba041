import {
  adopt,
  type AdoptOptions,
  type AdoptOutcome,
  type LetterPlan,
  type QuestionCode,
  type VariantPlan,
} from '@kinprint/registry';
import { folderOf, type Things } from './things.ts';

/** The day on which tests adopt. */
export const today = '2026-01-02';

/** What would become of a place, without a registry. */
export function look(place: string, options: Partial<AdoptOptions> = {}): Promise<AdoptOutcome> {
  return adopt(place, { registry: null, dryRun: true, today, ...options });
}

/** What would become of a folder of these things. */
export function lookAt(things: Things, options: Partial<AdoptOptions> = {}): Promise<AdoptOutcome> {
  return look(folderOf('Strap holder', things), options);
}

/** The present revision of a variant. */
export function last(variant: VariantPlan): LetterPlan {
  return variant.letters[variant.letters.length - 1];
}

/** The ids of each variant's present parts. */
export function parts({ plan }: Pick<AdoptOutcome, 'plan'>): string[][] {
  return plan.variants.map(variant => last(variant).parts.map(part => part.id));
}

/** The questions of a kind, each with the part it is about. */
export function asked({ plan }: Pick<AdoptOutcome, 'plan'>, code: QuestionCode): string[] {
  return plan.questions
    .filter(question => question.code === code)
    .map(({ part, text }) => `${part ?? ''}: ${text}`);
}

import type { Combination } from '@kinprint/compare';
import type { CombineVariantsReport } from '@kinprint/registry';
import type { Style } from '../terminal/layout.ts';
import { conflictStory } from './combine-text.ts';
import { documentStory } from './combine-variants-text.ts';

/** An open conflict, to be put to a person. */
export interface CombineQuestion {
  /** What `--take KEY=…` calls it. */
  readonly key: string;
  /** What happened, in lines for a terminal. */
  readonly text: string;
  readonly answers: readonly CombineAnswer[];
}

export type CombineAnswer = 'a' | 'b' | 'both' | 'none';

/** The open conflicts of three meshes. */
export function combineQuestions(
  { conflicts, changes }: Combination,
  style: Style,
  key = '',
): CombineQuestion[] {
  return conflicts.flatMap(conflict =>
    conflict.take === null
      ? [
          {
            key: `${key}${conflict.number}`,
            text: conflictStory(conflict, changes, style, key).join('\n'),
            answers: ['a', 'b', 'both', 'none'] as const,
          },
        ]
      : [],
  );
}

/** The open conflicts of variants: in their meshes, then in manifests and files, where a value cannot be both. */
export function combineVariantsQuestions(report: CombineVariantsReport, style: Style): CombineQuestion[] {
  return [
    ...report.parts.flatMap(({ id, combination }) =>
      combination === null ? [] : combineQuestions(combination, style, `${id}:`),
    ),
    ...report.conflicts.flatMap(conflict =>
      conflict.take === null
        ? [
            {
              key: conflict.key,
              text: documentStory(conflict, style).join('\n'),
              answers: ['a', 'b', 'none'] as const,
            },
          ]
        : [],
    ),
  ];
}

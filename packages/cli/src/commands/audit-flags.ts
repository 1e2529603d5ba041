import type { Use } from '@kinprint/license';

/** The options of `audit`, as commander gives them. */
export interface AuditFlags {
  readonly registry?: string;
  readonly use?: Use;
  readonly shapes: boolean;
  readonly sources: boolean;
  readonly format: 'text' | 'markdown' | 'json' | 'sarif';
  readonly cache: boolean;
  readonly json: boolean;
}

/** The options of `credits`. */
export interface CreditsFlags {
  readonly registry?: string;
  readonly sources: boolean;
  readonly format: CreditsFormat;
  readonly output?: string;
  readonly date?: string;
  readonly repo?: string;
  readonly columns: number;
  readonly json: boolean;
}

export const creditsFormats = [
  'text',
  'markdown',
  'html',
  'label',
  'json',
  'spdx',
  'cyclonedx',
  'reuse',
] as const;
export type CreditsFormat = (typeof creditsFormats)[number];

import { byText } from '@kinprint/compare';
import type { DocumentKind, DocumentPath, Problem, ReadDocument } from '@kinprint/manifest';
import type { VariantState } from '../state/types.ts';
import { findingCodes, type FindingCode, type Severity } from './codes.ts';

/** One thing that is wrong, or worth a look. */
export interface Finding {
  /** One of `findingCodes`, or the code of a document's problem. */
  readonly code: string;
  readonly severity: Severity;
  readonly text: string;
  readonly remedy: string;
  /** From the registry's root: where it was declared, or the file itself. */
  readonly file: string;
  /** From 1 on; null where it concerns the file as a whole. */
  readonly line: number | null;
  readonly column: number | null;
  /** The line itself. */
  readonly source: string | null;
  /** `device/variant`; null where it concerns no single one. */
  readonly variant: string | null;
  /** The part's id. */
  readonly part: string | null;
}

/** Where in a registry something was declared. */
export type Where = Pick<Finding, 'file' | 'line' | 'column' | 'source'>;
export type { DocumentPath };

export function inFile(file: string): Where {
  return { file, line: null, column: null, source: null };
}

export function inDocument(document: ReadDocument<DocumentKind>, path: DocumentPath): Where {
  const { line, column, source } = document.place(path);
  return { file: document.file, line, column, source };
}

export function finding(
  code: FindingCode,
  where: Where,
  text: string,
  remedy: string,
  of: { readonly variant?: string; readonly part?: string | null } = {},
): Finding {
  return {
    code,
    severity: findingCodes[code],
    text,
    remedy,
    ...where,
    variant: of.variant ?? null,
    part: of.part ?? null,
  };
}

/** A finding at a place in a variant's manifest. */
export function inManifest(
  variant: VariantState,
  code: FindingCode,
  path: DocumentPath,
  text: string,
  remedy: string,
  part: string | null = null,
): Finding {
  return finding(code, inDocument(variant.document, path), text, remedy, { variant: variant.address, part });
}

/** A problem of a document, or of the layout, as a finding. */
export function ofProblem(problem: Problem, variant: string | null): Finding {
  const { code, severity, text, remedy, file, line, column, source } = problem;
  // What concerns a file as a whole has no line to show.
  const whole = source === null;
  const where = { file, line: whole ? null : line, column: whole ? null : column, source };
  return { code, severity, text, remedy, ...where, variant, part: null };
}

const weights: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** Whole-registry findings first, then variant by variant; the worst first, then in the order of the file. */
export function byWeight(a: Finding, b: Finding): number {
  return (
    byText(a.variant ?? '', b.variant ?? '') ||
    weights[a.severity] - weights[b.severity] ||
    byText(a.file, b.file) ||
    (a.line ?? 0) - (b.line ?? 0) ||
    (a.column ?? 0) - (b.column ?? 0) ||
    byText(a.code, b.code) ||
    byText(a.text, b.text)
  );
}

export interface Counts {
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
}

export function countsOf(findings: readonly Finding[]): Counts {
  const count = (severity: Severity): number => findings.filter(f => f.severity === severity).length;
  return { errors: count('error'), warnings: count('warning'), notes: count('note') };
}

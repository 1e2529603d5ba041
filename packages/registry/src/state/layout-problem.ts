import type { Problem } from '@kinprint/manifest';

/** Something wrong with where files lie; it has no line. */
export function layoutProblem(
  code: string,
  severity: Problem['severity'],
  file: string,
  text: string,
  remedy: string,
): Problem {
  return { code, severity, text, remedy, file, line: 1, column: 1, at: '', source: null };
}

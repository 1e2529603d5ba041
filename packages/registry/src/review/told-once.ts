import type { ReviewFinding } from './types.ts';

/** All findings, without those that say of one thing what another has said already: the checks say it best. */
export function toldOnce(
  own: readonly ReviewFinding[],
  checks: readonly ReviewFinding[],
  audits: readonly ReviewFinding[],
): ReviewFinding[] {
  const places = new Set(checks.map(({ code, file, line }) => `${code} ${file} ${line}`));
  const broken = new Set(
    checks.flatMap(({ code, variant, part }) => (/^(mesh|file)-/.test(code) ? [`${variant} ${part}`] : [])),
  );
  return [
    ...own.filter(
      ({ code, variant, part }) => code !== 'part-not-compared' || !broken.has(`${variant} ${part}`),
    ),
    ...checks,
    ...audits.filter(({ code, file, line }) => !places.has(`${code} ${file} ${line}`)),
  ];
}

import type { ReviewFinding } from './types.ts';

/** All findings, without those that say of one thing what another has said already, and says better. */
export function toldOnce(
  own: readonly ReviewFinding[],
  checks: readonly ReviewFinding[],
  audits: readonly ReviewFinding[],
): ReviewFinding[] {
  const partOf = ({ variant, part }: ReviewFinding): string => `${variant} ${part}`;
  const placeOf = ({ file, line }: ReviewFinding): string => `${file} ${line}`;
  const places = new Set(checks.map(each => `${each.code} ${placeOf(each)}`));
  const broken = new Set(checks.filter(({ code }) => /^(mesh|file)-/.test(code)).map(partOf));
  // What an address does not lead to has no license either.
  const nowhere = new Set(checks.filter(({ code }) => /^derivation-.*unknown$/.test(code)).map(placeOf));
  const unlicensed = new Set(audits.filter(({ code }) => code === 'license-none').map(each => each.variant));
  return [
    ...own.filter(
      each =>
        !(each.code === 'part-not-compared' && broken.has(partOf(each))) &&
        !(each.code === 'license-changed' && unlicensed.has(each.variant)),
    ),
    ...checks.filter(each => !(each.code === 'license-missing' && unlicensed.has(each.variant))),
    ...audits.filter(
      each =>
        !places.has(`${each.code} ${placeOf(each)}`) &&
        !(each.code === 'ancestor-unknown' && nowhere.has(placeOf(each))),
    ),
  ];
}

import type { Kinship } from './verify-kin.ts';

/** What was measured, in a sentence: `same shape after scaling by 1.12 and mirroring; largest deviation 0.004 mm`. */
export function evidenceOf(kinship: Kinship): string {
  const { relation, mirrored, scale, other_facets, matched_query, matched_candidate, within_mm, deviation } =
    kinship;
  const steps = [
    scale === 1 ? '' : `scaling by ${String(Number(scale.toPrecision(5)))}`,
    mirrored ? 'mirroring' : '',
    relation === 'moved' ? 'moving' : '',
  ].filter(Boolean);
  const after = steps.length === 0 ? '' : ` after ${steps.join(' and ')}`;
  const most = deviation.max_mm + deviation.max_error_mm;
  if (other_facets)
    return `same shape in other facets${after}; largest deviation ${length(most)}, which chords explain`;
  if (relation !== 'reworked')
    return `same shape${after}${relation === 'same-shape' ? ', where it stands' : ''}; largest deviation ${length(most)}`;
  const shares = `${percent(matched_query)} of its surface and ${percent(matched_candidate)} of the relative's coincide within ${length(within_mm)}`;
  return `${shares}${after}; largest deviation ${length(most)}`;
}

function length(mm: number): string {
  if (mm < 1e-3) return 'below 0.001 mm';
  return `${mm < 0.1 ? mm.toFixed(3) : mm.toFixed(2)} mm`;
}

/** Rounded down, so that 100 % means all. */
function percent(share: number): string {
  return `${Math.floor(100 * share)} %`;
}

import type { Review, ReviewFinding } from '@kinprint/registry';
import { comparesTwo } from './compares-two.ts';

const severityWords: Readonly<Record<ReviewFinding['severity'], string>> = {
  error: 'error',
  warning: 'warning',
  ask: 'question',
  note: 'note',
};

/** `error, blocks`; by a registry's policy a mere note may block. */
export function findingWord({ severity, blocks }: Pick<ReviewFinding, 'severity' | 'blocks'>): string {
  return `${severityWords[severity]}${blocks ? ', blocks' : ''}`;
}

/** `cuff/right/shell`; empty where it is about the whole. */
export function findingAbout({ variant, part }: Pick<ReviewFinding, 'variant' | 'part'>): string {
  return [variant, part].filter(each => each !== null).join('/');
}

/** `devices/cuff/right/variant.yaml:12:5`. */
export function findingPlaceWords({
  file,
  line,
  column,
}: Pick<ReviewFinding, 'file' | 'line' | 'column'>): string | null {
  return file === null
    ? null
    : [file, line, line === null ? null : column].filter(part => part !== null).join(':');
}

/** What stands in the way, variant by variant in their order, and all else. */
export function partedFindings(review: Review): {
  readonly blocking: readonly ReviewFinding[];
  readonly others: readonly ReviewFinding[];
} {
  const { findings, variants } = review;
  if (comparesTwo(review)) return { blocking: [], others: findings };
  const order = new Map(variants.map(({ address }, k) => [address, k]));
  const placeOf = ({ variant }: ReviewFinding): number => order.get(variant ?? '') ?? -1;
  return {
    blocking: findings.filter(each => each.blocks).sort((a, b) => placeOf(a) - placeOf(b)),
    others: findings.filter(each => !each.blocks),
  };
}

import type { PartReview, PartShapes, VariantReview } from '@kinprint/registry';
import { changePicture } from '../pictures/change-picture.ts';
import { partPicture } from '../pictures/part-picture.ts';
import { sheetPng } from '../pictures/png.ts';
import { interfaceWords, partFigures } from './review-words.ts';

export interface ReviewPicture {
  readonly png: Uint8Array;
  /** What it shows, for who cannot see it. */
  readonly alt: string;
}

/** A still of what became of a part; null where there is no mesh to show. */
export function reviewPicture(
  { address, against, letter }: VariantReview,
  part: PartReview,
  shapes: PartShapes | null,
): ReviewPicture | null {
  if (shapes === null) return null;
  const name = `${address}/${part.id}`;
  if (shapes.kind === 'alone') {
    const title = part.verdict === 'removed' ? `${name}, taken away` : `${name}, ${part.verdict}`;
    return { png: sheetPng(partPicture(shapes.mesh, title).sheet), alt: title };
  }
  const old = against === null ? 'before' : `${against.address}${letterOf(against.letter)}`;
  const { sheet } = changePicture({
    title: name,
    before: old,
    after: `${address}${letterOf(letter.after)}`,
    comparison: shapes.comparison,
    meshes: shapes.meshes,
  });
  const words = [part.verdict, ...interfaceWords(part), partFigures(part)].filter(Boolean).join('; ');
  return { png: sheetPng(sheet), alt: `${name}: ${words}` };
}

function letterOf(letter: string | null): string {
  return letter === null ? '' : `@${letter}`;
}

import type { PartReview, PartShapes, VariantReview } from '@kinprint/registry';
import type { DrawRequest } from './part-drawing.ts';

/** What is to be drawn of a reviewed part. */
export function drawRequest(
  { address, against, letter }: VariantReview,
  part: PartReview,
  shapes: Exclude<PartShapes, { kind: 'fault' }>,
  detailed: boolean,
): DrawRequest {
  const name = `${address}/${part.id}`;
  switch (shapes.kind) {
    case 'alone': {
      const removed = part.verdict === 'removed';
      const title = removed ? `${name}, taken away` : `${name}, ${part.verdict}`;
      const side = removed ? 'before' : 'after';
      return { subject: { kind: 'alone', title, side, mesh: shapes.mesh }, detailed };
    }
    case 'change': {
      const { comparison, meshes } = shapes;
      const old = against === null ? 'before' : `${against.address}${letterOf(against.letter)}`;
      const before = part.was === null || part.was === part.id ? old : `${old}/${part.was}`;
      const after = `${address}${letterOf(letter.after)}`;
      return {
        subject: { kind: 'change', change: { title: name, before, after, comparison, meshes } },
        detailed,
      };
    }
  }
}

function letterOf(letter: string | null): string {
  return letter === null ? '' : `@${letter}`;
}

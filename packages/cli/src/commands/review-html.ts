import path from 'node:path';
import type { Review } from '@kinprint/registry';
import { reviewPage, type ReviewDrawings } from '@kinprint/report';
import type { Io } from '../io.ts';
import { viewerScript } from '../viewer-script.ts';
import { streamOutput } from '../write-output.ts';

/** Writes the page of a review, part by part. */
export async function writeReviewHtml(
  review: Review,
  drawings: ReviewDrawings,
  file: string,
  io: Io,
): Promise<void> {
  const script = await viewerScript();
  await streamOutput(path.resolve(io.cwd, file), write =>
    reviewPage(review, { script, drawingOf: part => drawings.of(part) }, write),
  );
}

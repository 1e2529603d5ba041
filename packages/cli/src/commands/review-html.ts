import path from 'node:path';
import { eachPartShapes, type OpenReview } from '@kinprint/registry';
import { reviewPage } from '@kinprint/report';
import type { Io } from '../io.ts';
import { progressOf } from '../progress.ts';
import { viewerScript } from '../viewer-script.ts';
import { streamOutput } from '../write-output.ts';

/** Writes the page of a review, part by part. */
export async function writeReviewHtml({ review, pairs }: OpenReview, file: string, io: Io): Promise<void> {
  const script = await viewerScript();
  const progress = progressOf(io, 'picture');
  try {
    await streamOutput(path.resolve(io.cwd, file), write =>
      reviewPage(
        review,
        {
          script,
          eachPart: (parts, visit) =>
            eachPartShapes(
              parts.flatMap(part => {
                const pair = pairs.get(part);
                return pair === undefined ? [] : [[part, pair] as const];
              }),
              visit,
            ),
          progress: (done, total) => progress.at(done, total),
        },
        write,
      ),
    );
  } finally {
    progress.end();
  }
}

import type { OpenReview } from '@kinprint/registry';
import { drawReview, undrawnLine, type ReviewDrawings } from '@kinprint/report';
import type { Io } from '../io.ts';
import { progressOf } from '../progress.ts';

/** Has what changed drawn, and gives it to what is to be written with it. */
export async function withDrawings(
  opened: OpenReview,
  io: Io,
  write: (drawings: ReviewDrawings) => Promise<void>,
): Promise<void> {
  const progress = progressOf(io, 'picture');
  const drawings = await drawReview(opened, (done, all) => progress.at(done, all)).finally(() => {
    progress.end();
  });
  try {
    await write(drawings);
    const told = undrawnLine(drawings);
    if (told !== null) io.err(`${told}\n`);
  } finally {
    await drawings.close();
  }
}

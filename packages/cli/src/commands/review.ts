import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import {
  cacheFolder,
  openCache,
  parseRevisionSpec,
  publishedAt,
  reviewChange,
  reviewTwo,
} from '@kinprint/registry';
import { reviewJson, reviewJunit, reviewMarkdown, reviewSarif, reviewText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { checkOutputs } from '../outputs.ts';
import { picturesFolder } from '../pictures-folder.ts';
import { progressOf } from '../progress.ts';
import { committedRegistryFolder, registryFolder } from '../registry-folder.ts';
import { version } from '../version.ts';
import { writeOutput } from '../write-output.ts';
import type { ReviewFlags } from './review-flags.ts';
import { withDrawings } from './review-drawings.ts';
import { writeReviewHtml } from './review-html.ts';
import { pictureAddress, writeReviewPictures } from './review-pictures.ts';

/** `kinprint review BASE..HEAD`, or two variants: 1 where findings block it. */
export async function reviewCommand(
  change: string,
  other: string | undefined,
  flags: ReviewFlags,
  io: Io,
): Promise<number> {
  const ends = other === undefined ? endsOf(change) : null;
  if (flags.pictureUrl !== undefined) pictureAddress(flags.pictureUrl);
  await checkOutputs(io.cwd, [
    { option: '--html', file: flags.html },
    { option: '--markdown', file: flags.markdown, folder: picturesFolder(flags.markdown ?? '') },
    { option: '--sarif', file: flags.sarif },
    { option: '--junit', file: flags.junit },
  ]);
  const folderOf = ends === null || ends.head === null ? registryFolder : committedRegistryFolder;
  const root = folderOf(flags.registry, io.cwd);
  const cache = openCache(flags.cache ? cacheFolder() : null);
  const progress = progressOf(io, 'part');
  const write = (file: string, text: string): Promise<void> => writeOutput(path.resolve(io.cwd, file), text);
  try {
    const request = {
      root,
      cache,
      published: await publishedAt(root),
      shapes: flags.shapes,
      drawn: flags.html !== undefined || flags.markdown !== undefined,
      progress: (done: number, total: number) => progress.at(done, total),
    };
    const opened =
      ends === null
        ? await reviewTwo({ ...request, before: change, after: other ?? '' })
        : await reviewChange({ ...request, ...ends });
    try {
      progress.end();
      const { review, prefix } = opened;
      if (flags.sarif !== undefined)
        await write(flags.sarif, `${JSON.stringify(reviewSarif(review, version, prefix), null, 2)}\n`);
      if (flags.junit !== undefined) await write(flags.junit, reviewJunit(review));
      const { html, markdown } = flags;
      if (opened.held !== null)
        await withDrawings(opened, io, async drawings => {
          if (html !== undefined) await writeReviewHtml(review, drawings, html, io);
          if (markdown === undefined) return;
          const pictures = await writeReviewPictures(
            review,
            drawings,
            markdown,
            flags.pictureUrl ?? null,
            io,
          );
          await write(markdown, reviewMarkdown(review, pictures));
        });
      const style = { columns: io.columns, color: io.color };
      io.out(`${flags.json ? JSON.stringify(reviewJson(review), null, 2) : reviewText(review, style)}\n`);
      return review.decision === 'blocked' ? exit.findings : exit.fine;
    } finally {
      await opened.close();
    }
  } finally {
    cache.flush();
  }
}

/** Two revisions, or one and the folder. @throws InputError `revision-bad`, `change-with-path` */
function endsOf(change: string): { readonly base: string; readonly head: string | null } {
  const [before, after] = parseRevisionSpec(change);
  if (before.path !== '' || (after?.path ?? '') !== '')
    throw new InputError(
      'change-with-path',
      `'${change}' names a path; a review looks at a whole registry.`,
      'Write BASE..HEAD, and name the registry with --registry.',
    );
  return { base: before.revision, head: after?.revision ?? null };
}

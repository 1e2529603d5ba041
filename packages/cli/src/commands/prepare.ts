import path from 'node:path';
import {
  addCertainLines,
  cacheFolder,
  openCache,
  openPreparation,
  publishedAt,
  type AddedLine,
} from '@kinprint/registry';
import { prepareJson, prepareText, submissionMarkdown } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { checkOutputs } from '../outputs.ts';
import { picturesFolder } from '../pictures-folder.ts';
import { progressOf } from '../progress.ts';
import { registryFolder } from '../registry-folder.ts';
import { writeOutput } from '../write-output.ts';
import type { PrepareFlags } from './prepare-flags.ts';
import { withDrawings } from './review-drawings.ts';
import { pictureAddress, writeReviewPictures } from './review-pictures.ts';

/** `kinprint prepare`: 1 where something stands in the way. */
export async function prepareCommand(flags: PrepareFlags, io: Io): Promise<number> {
  if (flags.pictureUrl !== undefined) pictureAddress(flags.pictureUrl);
  const { output } = flags;
  await checkOutputs(io.cwd, [{ option: '--output', file: output, folder: picturesFolder(output ?? '') }]);
  const root = registryFolder(flags.registry, io.cwd);
  const cache = openCache(flags.cache ? cacheFolder() : null);
  const published = await publishedAt(root);
  const prepare = async () => {
    const progress = progressOf(io, 'part');
    const step = (done: number, total: number): void => progress.at(done, total);
    const request = {
      root,
      base: flags.base ?? null,
      cache,
      published,
      shapes: flags.shapes,
      drawn: flags.output !== undefined,
    };
    const open = await openPreparation({ ...request, progress: step });
    progress.end();
    return open;
  };
  try {
    let open = await prepare();
    try {
      let added: readonly AddedLine[] = [];
      if (flags.add) {
        added = addCertainLines(root, open);
        // What was added may settle what was found.
        if (added.length > 0) {
          const anew = await prepare();
          await open.close();
          open = anew;
        }
      }
      const { preparation, opened } = open;
      if (output !== undefined) {
        await withDrawings(opened, io, async drawings => {
          const url = flags.pictureUrl ?? null;
          const pictures = await writeReviewPictures(opened.review, drawings, output, url, io);
          await writeOutput(path.resolve(io.cwd, output), submissionMarkdown(preparation, pictures));
        });
      }
      const style = { columns: io.columns, color: io.color };
      io.out(
        `${
          flags.json
            ? JSON.stringify(prepareJson(preparation, added), null, 2)
            : prepareText(preparation, added, output ?? null, style)
        }\n`,
      );
      return preparation.ready ? exit.fine : exit.findings;
    } finally {
      await open.close();
    }
  } finally {
    cache.flush();
  }
}

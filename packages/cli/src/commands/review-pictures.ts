import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { eachPartShapes, type OpenReview, type PartReview } from '@kinprint/registry';
import { reviewPicture, type LinkedPicture } from '@kinprint/report';
import type { Io } from '../io.ts';
import { picturesFolder, picturesName } from '../pictures-folder.ts';
import { pictureFolder, writeOutput } from '../write-output.ts';

/**
 * Draws what changed and what is new into a folder beside the text.
 *
 * @param text the file that is to show them
 * @param url what their addresses begin with; null for the folder beside the text
 */
export async function writeReviewPictures(
  { review, pairs }: OpenReview,
  text: string,
  url: string | null,
  io: Io,
): Promise<ReadonlyMap<PartReview, LinkedPicture>> {
  const name = picturesName(text);
  const folder = path.resolve(io.cwd, picturesFolder(text));
  const start = url === null ? name : pictureAddress(url).replace(/\/$/, '');
  const drawn = new Map<PartReview, LinkedPicture>();
  for (const variant of review.variants) {
    const shown = variant.parts.flatMap(part => {
      const pair = pairs.get(part);
      return pair === undefined || part.verdict === 'identical' ? [] : [[part, pair] as const];
    });
    await eachPartShapes(shown, async (part, shapes) => {
      const picture = reviewPicture(variant, part, shapes);
      if (picture === null) return;
      if (drawn.size === 0) await pictureFolder(folder);
      const file = `${variant.address}-${part.id}`.replace(/[^a-z0-9-]+/gi, '-');
      await writeOutput(path.join(folder, `${file}.png`), picture.png);
      drawn.set(part, { link: linked(`${start}/${file}.png`), alt: picture.alt });
    });
  }
  return drawn;
}

/** @throws InputError `picture-url` for what is neither on the web nor beside the text */
export function pictureAddress(url: string): string {
  if (/^https?:\/\//i.test(url) || !/^[^/]*:/.test(url)) return url;
  throw new InputError(
    'picture-url',
    `'${url}' is no address of pictures.`,
    'Write one that begins with https:// or http://, or a folder relative to the text.',
  );
}

/** Nothing in it ends a link of Markdown. */
function linked(address: string): string {
  return encodeURI(address).replace(/[()]/g, sign => (sign === '(' ? '%28' : '%29'));
}

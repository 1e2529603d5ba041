import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import type { PartReview, Review } from '@kinprint/registry';
import { drawingWords, type LinkedPicture, type ReviewDrawings, type Undrawn } from '@kinprint/report';
import type { Io } from '../io.ts';
import { picturesFolder, picturesName } from '../pictures-folder.ts';
import { pictureFolder, writeOutput } from '../write-output.ts';

/**
 * Writes the pictures of what changed and what is new into a folder beside the text.
 *
 * @param text the file that is to show them
 * @param url what their addresses begin with; null for the folder beside the text
 */
export async function writeReviewPictures(
  { variants }: Review,
  drawings: ReviewDrawings,
  text: string,
  url: string | null,
  io: Io,
): Promise<ReadonlyMap<PartReview, LinkedPicture | Undrawn>> {
  const name = picturesName(text);
  const folder = path.resolve(io.cwd, picturesFolder(text));
  const start = url === null ? name : pictureAddress(url).replace(/\/$/, '');
  const pictures = new Map<PartReview, LinkedPicture | Undrawn>();
  const used = new Set<string>();
  for (const variant of variants)
    for (const part of variant.parts) {
      const drawing = await drawings.of(part);
      if (drawing === null) continue;
      if (drawing.kind === 'undrawn') {
        pictures.set(part, drawing);
        continue;
      }
      if (used.size === 0) await pictureFolder(folder);
      const file = unused(`${variant.address}-${part.id}`.replace(/[^a-z0-9-]+/gi, '-'), used);
      await writeOutput(path.join(folder, `${file}.png`), drawing.large.png);
      pictures.set(part, { link: linked(`${start}/${file}.png`), alt: drawingWords(variant, part) });
    }
  return pictures;
}

/** The name, with a number where another part has it. */
function unused(name: string, used: Set<string>): string {
  let free = name;
  for (let n = 2; used.has(free.toLowerCase()); n++) free = `${name}-${n}`;
  used.add(free.toLowerCase());
  return free;
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

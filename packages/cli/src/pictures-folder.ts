import path from 'node:path';

/** The folder for the pictures of a text, beside it: `review-pictures` for `review.md`. */
export function picturesFolder(text: string): string {
  return path.join(path.dirname(text), picturesName(text));
}

/** Its name alone. */
export function picturesName(text: string): string {
  return `${path.basename(text).replace(/\.[^.]*$/, '')}-pictures`;
}

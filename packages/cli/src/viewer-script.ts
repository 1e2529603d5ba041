import { readFile } from 'node:fs/promises';

/** What runs in the page of a review. It is built beside the program; from sources it is bundled when it is asked for. */
export async function viewerScript(): Promise<string> {
  if (!import.meta.url.endsWith('.ts')) return readFile(new URL('./viewer.js', import.meta.url), 'utf8');
  const tool = new URL('../../../tools/viewer-script.mjs', import.meta.url).href;
  const { viewerScript: bundle } = (await import(tool)) as { viewerScript: () => Promise<string> };
  return bundle();
}

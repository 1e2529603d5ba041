import { createRequire } from 'node:module';
import { readFile } from 'node:fs/promises';
import path from 'node:path';

/**
 * The text of a license of the SPDX list, as the package `spdx-license-list` holds it; null where it holds none
 * (exceptions, licenses newer than the package).
 */
export async function licenseText(id: string): Promise<string | null> {
  if (!/^[A-Za-z0-9][A-Za-z0-9.-]*$/.test(id)) return null;
  const entry = createRequire(import.meta.url).resolve('spdx-license-list/package.json');
  try {
    const read = await readFile(path.join(path.dirname(entry), 'licenses', `${id}.json`), 'utf8');
    const { licenseText: text } = JSON.parse(read) as { readonly licenseText?: unknown };
    return typeof text === 'string' && text.trim() !== '' ? `${text.trimEnd()}\n` : null;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

import type { FileRef, RegistryFiles } from '../state/registry-files.ts';

/** Where REUSE keeps the text of a license outside the SPDX list (specification 3.3, "License files"). */
const ownText = /^LICENSES\/(LicenseRef-[A-Za-z0-9.-]+?)\.(?:txt|md)$/;

/** Longer than the longest text of the SPDX license list (about 120 000 signs); longer files are no license. */
const mostBytes = 256 * 1024;

/**
 * Texts of licenses outside the SPDX list that a revision brings along, by the license's id.
 *
 * @throws InputError what keeps a file from being read
 */
export async function ownLicenseTexts(
  files: RegistryFiles,
  folder: string,
  refs: readonly FileRef[],
): Promise<Record<string, string>> {
  const texts: Record<string, string> = {};
  for (const ref of refs) {
    const id = ownText.exec(ref.path.slice(folder.length + 1))?.[1];
    if (id === undefined || ref.problem !== null) continue;
    const bytes = await files.bytes(ref, mostBytes + 1);
    if (bytes.length <= mostBytes) texts[id] = new TextDecoder().decode(bytes);
  }
  return texts;
}

import { createHash } from 'node:crypto';
import { byText } from '@kinprint/compare';
import { InputError } from '@kinprint/mesh';
import type { RevisionContent } from '../history/history.ts';
import { contentDigest } from '../snapshot/digest.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import { variantFile } from '../state/registry-files.ts';
import type { BillFile, BillPart } from './types.ts';

/** The refs of a revision, its manifest among them; links and special files are not followed and not counted. */
export async function revisionRefs({ files, folder, refs }: RevisionContent): Promise<FileRef[]> {
  const manifest = (await files.list()).find(ref => ref.path === `${folder}/${variantFile}`);
  return [...refs, ...(manifest === undefined ? [] : [manifest])]
    .filter(ref => ref.problem?.code !== 'not-regular')
    .sort((a, b) => byText(a.path, b.path));
}

/**
 * Every file of a revision with its hashes.
 *
 * @param known hashes that were computed before, by SHA-256: most files of a lineage come back letter after letter
 * @throws InputError for a file that cannot be read, with its place
 */
export async function billFiles(
  content: RevisionContent,
  parts: readonly BillPart[],
  known: Map<string, { readonly sha1: string; readonly size: number }>,
): Promise<BillFile[]> {
  const listed: BillFile[] = [];
  for (const ref of await revisionRefs(content)) {
    if (ref.problem !== null)
      throw new InputError(ref.problem.code, ref.problem.text, ref.problem.remedy, { file: ref.path });
    const sha256 = await content.files.sha256(ref);
    const more = known.get(sha256) ?? (await hashed(content.files, ref));
    known.set(sha256, more);
    const path = ref.path.slice(content.folder.length + 1);
    listed.push({
      path,
      size: more.size,
      sha256,
      sha1: more.sha1,
      parts: parts.filter(part => part.mesh === path || part.sources.includes(path)).map(part => part.id),
    });
  }
  return listed;
}

async function hashed(files: RegistryFiles, ref: FileRef): Promise<{ sha1: string; size: number }> {
  const source = await files.open(ref);
  try {
    return { sha1: contentDigest(source, 'sha1').slice('sha1:'.length), size: source.size };
  } finally {
    source.close();
  }
}

/** The package verification code of SPDX 2.3, clause 7.9. */
export function verificationCode(files: readonly BillFile[]): string {
  const sorted = files.map(file => file.sha1).sort();
  return createHash('sha1').update(sorted.join('')).digest('hex');
}

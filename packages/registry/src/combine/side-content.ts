import type { Part } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { Parent } from '../derive/derive.ts';
import type { FileRef } from '../state/registry-files.ts';

/** One of the three revisions with its files by content. */
export interface SideContent {
  readonly parent: Parent;
  /** By path in the variant's folder. */
  readonly files: ReadonlyMap<string, { readonly ref: FileRef; readonly sha256: string }>;
}

/** Hashes what a revision holds; links and the like are left aside, as everywhere. */
export async function sideContent(parent: Parent): Promise<SideContent> {
  const files = new Map<string, { ref: FileRef; sha256: string }>();
  for (const ref of parent.content.refs) {
    if (ref.problem?.code === 'not-regular') continue;
    const path = ref.path.slice(parent.content.folder.length + 1);
    files.set(path, { ref, sha256: await parent.content.files.sha256(ref) });
  }
  return { parent, files };
}

/** The file of a part's mesh. @throws InputError `mesh-missing` */
export function meshFile(side: SideContent, part: Part): { readonly ref: FileRef; readonly sha256: string } {
  const file = side.files.get(part.mesh);
  if (file !== undefined) return file;
  throw new InputError(
    'mesh-missing',
    `The mesh of '${part.id}' is missing in ${side.parent.address}.`,
    'Run kinprint check.',
    { file: `${side.parent.content.folder}/${part.mesh}` },
  );
}

/** What a mesh is: its bytes, and the unit they are read in. */
export function meshKey(side: SideContent, part: Part): string {
  return `${meshFile(side, part).sha256} ${part.unit ?? ''}`;
}

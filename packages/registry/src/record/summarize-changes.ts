import { byText, type PartComparison } from '@kinprint/compare';
import type { VariantDocument } from '@kinprint/manifest';
import type { Unit } from '@kinprint/mesh';
import type { RevisionContent } from '../history/history.ts';
import { mayBeMesh } from '../snapshot/candidate.ts';
import type { FileRef } from '../state/registry-files.ts';
import { snapshotOf } from '../state/entries.ts';
import { compareTrees, type TreeHooks } from '../work/compare-trees.ts';
import { manifestWords } from './manifest-words.ts';
import { shapeWords, withoutWords } from './shape-words.ts';

/** The schema's bounds of a line, and of how many a revision may have. */
const lineLength = 200;
const mostLines = 1000;

/**
 * What changed between two revisions of a variant, a line each: first the parts by the comparison of their meshes,
 * then what the manifest says, then other files.
 */
export async function summarizeChanges(
  before: RevisionContent,
  after: RevisionContent,
  hooks: TreeHooks = {},
): Promise<string[]> {
  const [old, now] = [before.document.value, after.document.value];
  if (old === null || now === null) return [];
  const meshesOf = (content: RevisionContent, manifest: VariantDocument) => {
    const listed = new Set(manifest.parts.map(part => `${content.folder}/${part.mesh}`));
    return content.refs.filter(ref => listed.has(ref.path) || mayBeMesh(ref.path.split('/').at(-1) ?? ''));
  };
  const meshes = [meshesOf(before, old), meshesOf(after, now)] as const;
  const parts: PartComparison[] = [];
  // Files of one unit are compared as one lot; most variants have but one.
  for (const unit of new Set([...old.parts, ...now.parts, null].map(part => part?.unit ?? null))) {
    const lot = (content: RevisionContent, manifest: VariantDocument, refs: readonly FileRef[]) =>
      regular(refs).filter(ref => unitOf(manifest, ref.path.slice(content.folder.length + 1)) === unit);
    const lots = [lot(before, old, meshes[0]), lot(after, now, meshes[1])] as const;
    if (lots[0].length + lots[1].length === 0) continue;
    const tree = await compareTrees(
      await snapshotOf(before.files, lots[0], before.folder, 'before'),
      await snapshotOf(after.files, lots[1], after.folder, 'after'),
      unit === null ? withoutWords : { ...withoutWords, unit },
      hooks,
    );
    parts.push(...tree.parts);
  }
  const lines = [
    ...parts.flatMap(part => partLine(part, old, now)).sort(byText),
    ...manifestWords(old, now),
    ...(await otherFiles(before, after, [...meshes[0], ...meshes[1]])),
  ];
  return lines.slice(0, mostLines).map(line => cut(oneLine(line)));
}

function regular(refs: readonly FileRef[]): FileRef[] {
  return refs.filter(ref => ref.problem?.code !== 'not-regular');
}

function unitOf(manifest: VariantDocument, mesh: string): Unit | null {
  return manifest.parts.find(part => part.mesh === mesh)?.unit ?? null;
}

function partLine(part: PartComparison, old: VariantDocument, now: VariantDocument): string[] {
  const words = shapeWords(part);
  const was = part.before === null ? null : idOf(old, part.before);
  const is = part.after === null ? null : idOf(now, part.after);
  const name = is ?? was ?? part.after ?? part.before ?? '';
  const renamed = is !== null && was !== null && is !== was ? `renamed from ${was}` : '';
  if (part.pairing === 'copy' && is !== was)
    return [join(name, 'added', `made from ${was ?? part.before ?? ''}`, words)];
  return words === null && renamed === '' ? [] : [join(name, renamed, words)];
}

function join(name: string, ...words: readonly (string | null)[]): string {
  return `${name}: ${words.filter(word => word !== null && word !== '').join('; ')}`;
}

function idOf(manifest: VariantDocument, mesh: string): string | null {
  return manifest.parts.find(part => part.mesh === mesh)?.id ?? null;
}

/** Files that are no meshes: editable models, pictures, texts. */
async function otherFiles(
  before: RevisionContent,
  after: RevisionContent,
  meshes: readonly FileRef[],
): Promise<string[]> {
  const skip = new Set(meshes);
  const hashes = async ({ files, refs, folder }: RevisionContent): Promise<Map<string, string>> =>
    new Map(
      await Promise.all(
        regular(refs)
          .filter(ref => !skip.has(ref))
          .map(async ref => [ref.path.slice(folder.length + 1), await files.sha256(ref)] as const),
      ),
    );
  const [old, now] = [await hashes(before), await hashes(after)];
  return [...new Set([...old.keys(), ...now.keys()])].sort(byText).flatMap(path => {
    if (old.get(path) === now.get(path)) return [];
    return [`${path}: ${old.has(path) ? (now.has(path) ? 'changed' : 'removed') : 'added'}`];
  });
}

/** Names of files may hold anything. */
function oneLine(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f\u2028\u2029\ud800-\udfff]/gu, '\ufffd');
}

function cut(line: string): string {
  return [...line].length <= lineLength ? line : `${[...line].slice(0, lineLength - 1).join('')}…`;
}

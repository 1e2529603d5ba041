import type { VariantDocument } from '@kinprint/manifest';
import { audit, type AuditCode, type Descent, type LicensePolicy, type Work } from '@kinprint/license';
import { InputError } from '@kinprint/mesh';
import type { StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import { licensePolicy, type RegistryWorks } from '../licenses/works-of.ts';
import type { LineageNode } from '../lineage/types.ts';
import type { RegistryState } from '../state/types.ts';
import { billFiles, verificationCode } from './bill-files.ts';
import { nodeContent } from './node-content.ts';
import { ownLicenseTexts } from './own-license-texts.ts';
import type { Bill, BillFile, BillPart, BillRevision } from './types.ts';

/**
 * A revision and everything that it came from, near and far, with the files of each and their hashes. What is not at
 * hand (of another registry, lost from history, kept elsewhere) is in the list with the reason and without files.
 *
 * @param id of a work in `works`
 */
export async function billOf(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  id: string,
): Promise<Bill> {
  const { links, ids } = lineageOf(works.descents, id);
  const byId = new Map(works.works.map(work => [work.id, work]));
  const nodes = new Map(works.graph.nodes.map(node => [node.id, node]));
  const hashes = new Map<string, { sha1: string; size: number }>();
  const objections = objectionsOf(works, ids, licensePolicy(state));
  const revisions: BillRevision[] = [];
  for (const each of ids) {
    const [work, node] = [byId.get(each), nodes.get(each)];
    if (work === undefined || node === undefined) throw new Error(`${each} is no work of this lineage.`);
    const revision = await revisionOf(work, node, await nodeContent(state, history, works, node), hashes);
    revisions.push({
      ...revision,
      ...(await recordedAt(history, revision)),
      guessed: works.guessed.includes(each),
      objections: objections.get(each) ?? [],
    });
  }
  const [first, ...older] = revisions;
  return {
    registry: state.registry?.value?.name ?? state.files.name,
    revisions: [first, ...older],
    links: links.map(({ from, to, relation, changes }) => ({ from, to, relation, changes })),
  };
}

/** Findings that leave in doubt whether the license that is stated is the one that holds. */
const aboutLicense: readonly AuditCode[] = [
  'license-wrong',
  'no-permission',
  'no-derivatives',
  'share-alike',
  'version-not-allowed',
  'license-clash',
  'copy-relabeled',
  'cannot-combine',
];

function objectionsOf(
  works: RegistryWorks,
  targets: readonly string[],
  policy: LicensePolicy,
): ReadonlyMap<string, readonly AuditCode[]> {
  const codes = audit(works, { targets, policy }).works.map(({ id, findings }): [string, AuditCode[]] => {
    const errors = findings.filter(
      ({ code, severity }) => severity === 'error' && aboutLicense.includes(code),
    );
    return [id, [...new Set(errors.map(({ code }) => code))]];
  });
  return new Map(codes);
}

/** Everything that a work came from, the nearest first, and the links that lead there. */
function lineageOf(
  descents: readonly Descent[],
  id: string,
): { readonly ids: readonly string[]; readonly links: readonly Descent[] } {
  const older = new Map<string, Descent[]>();
  for (const descent of descents) older.set(descent.from, [...(older.get(descent.from) ?? []), descent]);
  const ids = new Set([id]);
  const links: Descent[] = [];
  // A set grows while it is walked, and each member is met once, circles or not.
  for (const each of ids)
    for (const link of older.get(each) ?? []) {
      links.push(link);
      ids.add(link.to);
    }
  return { ids: [...ids], links };
}

/**
 * The commit that holds a letter also where its files were read from the working copy, so that the bill of a letter stays
 * the same when the next one is recorded.
 */
async function recordedAt(
  history: StateHistory,
  {
    address,
    letter,
    digest,
    folder,
    commit,
    url,
  }: Pick<BillRevision, 'address' | 'letter' | 'digest' | 'folder' | 'commit' | 'url'>,
): Promise<Partial<Pick<BillRevision, 'folder' | 'commit'>>> {
  const needed = url !== null && commit === null && folder !== null && !address.includes(':');
  if (!needed || letter === null || digest === null) return {};
  const found = await (await history.open())?.find({ letter, digest }, folder);
  return found?.found === true ? { folder: found.content.folder, commit: found.content.commit } : {};
}

async function revisionOf(
  work: Work,
  node: LineageNode,
  found: RevisionContent | string,
  hashes: Map<string, { sha1: string; size: number }>,
): Promise<Omit<BillRevision, 'guessed' | 'objections'>> {
  const content = typeof found === 'string' ? null : found;
  const document = content?.document.value ?? null;
  const parts = document === null ? [] : partsOf(document);
  const listed: Listed =
    typeof found === 'string'
      ? { files: null, problem: found, texts: {} }
      : await filesOf(found, parts, hashes);
  return {
    id: work.id,
    address: node.address,
    letter: node.letter,
    title: work.title,
    summary: document?.summary ?? null,
    license: work.license,
    authors: work.authors,
    parts,
    date: node.date,
    digest: node.digest,
    url: work.url,
    known: work.known,
    folder: content?.folder ?? null,
    commit: content?.commit ?? null,
    files: listed.files,
    verification_code: listed.files === null ? null : verificationCode(listed.files),
    files_problem: listed.problem,
    own_texts: listed.texts,
  };
}

interface Listed {
  readonly files: readonly BillFile[] | null;
  readonly problem: string | null;
  readonly texts: Readonly<Record<string, string>>;
}

async function filesOf(
  content: RevisionContent,
  parts: readonly BillPart[],
  hashes: Map<string, { sha1: string; size: number }>,
): Promise<Listed> {
  try {
    const files = await billFiles(content, parts, hashes);
    const texts = await ownLicenseTexts(content.files, content.folder, content.refs);
    return { files, problem: null, texts };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const where = error.place.file === undefined ? '' : `${error.place.file}: `;
    return { files: null, problem: `${where}${error.message}`, texts: {} };
  }
}

function partsOf({ parts }: VariantDocument): BillPart[] {
  return parts.map(part => ({
    id: part.id,
    license: part.license ?? null,
    authors: part.authors?.map(({ name, url }) => ({ name, url: url ?? null })) ?? null,
    mesh: part.mesh,
    sources: part.source ?? [],
  }));
}

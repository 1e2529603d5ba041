import { byText } from '@kinprint/compare';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { openCheck, type OpenCheck } from '../check/open-check.ts';
import { repositoryPrefix } from '../history/content-at.ts';
import { indexLineage } from '../lineage/lineage-index.ts';
import { lineageOf } from '../lineage/lineage-of.ts';
import { descendantsOf } from '../lineage/reach.ts';
import type { RegistryState } from '../state/types.ts';
import { mapAhead } from '../work/map-ahead.ts';
import { countsOfReview, decisionOf, withBlocking } from './blocking.ts';
import { branchPoint, changedFiles, type BranchPoint } from './branch-point.ts';
import { changedVariants, type ChangedVariant } from './changed-variants.ts';
import { holdShapes, type HeldShapes } from './held-shapes.ts';
import { newAudits, newChecks, ofAudit, type NewAudits } from './new-findings.ts';
import { holdsNone, licenseUnknown, registryName, withUsableRegistry } from './usable-registry.ts';
import { withKinds, type PathChange } from './file-kinds.ts';
import { toldOnce } from './told-once.ts';
import { fileFindings, variantFindings } from './own-findings.ts';
import type { PairedPart } from './pair-parts.ts';
import { reviewVariant, type VariantMeans } from './review-variant.ts';
import type { PartReview, Review } from './types.ts';
import { withWorkers } from './with-workers.ts';

export interface ReviewRequest {
  /** The folder that holds registry.yaml. */
  readonly root: string;
  readonly base: string;
  /** null for what lies in the folder. */
  readonly head: string | null;
  readonly cache: Cache;
  /** Where the registry is published; for the audit. */
  readonly published: string | null;
  /** Whether relatives that nobody declared are looked for. */
  readonly shapes: boolean;
  /** Whether what changed will be drawn. */
  readonly drawn: boolean;
  readonly progress?: (done: number, total: number) => void;
}

/** A review, with what its pictures are made of. */
export interface OpenReview {
  readonly review: Review;
  readonly pairs: ReadonlyMap<PartReview, PairedPart>;
  /** The solids that were compared; null where nothing will be drawn. */
  readonly held: HeldShapes | null;
  /** The registry's folder in its repository, without slash at the end. */
  readonly prefix: string;
  close(): Promise<void>;
}

/** A review of what HEAD brings, with what was found out on the way. */
export interface OpenChange extends OpenReview {
  /** What HEAD holds. */
  readonly after: OpenCheck;
  readonly audits: NewAudits;
}

/**
 * Reviews what HEAD brings since it left BASE: shapes, interfaces, credit, licenses, vetting.
 *
 * @throws InputError `revision-unknown`, `repository-not-found`, `registry-not-found`
 */
export async function reviewChange(request: ReviewRequest): Promise<OpenChange> {
  const { root, base, head, cache } = request;
  const point = await branchPoint(root, base, head ?? 'HEAD');
  const before = withUsableRegistry(await openCheck(root, point.commit, cache));
  const held = request.drawn ? holdShapes() : null;
  let after: OpenCheck | null = null;
  const close = async (): Promise<void> => {
    await Promise.all([before.close(), after?.close(), held?.close()]);
  };
  try {
    after = withUsableRegistry(await openCheck(root, head === null ? null : point.head, cache));
    if (holdsNone(before.state) && holdsNone(after.state))
      throw new InputError(
        'registry-not-found',
        `Neither '${base}' nor '${head ?? root}' holds a registry.yaml.`,
        'Name revisions of a registry.',
      );
    const prefix = (await repositoryPrefix(root)) ?? '';
    return { ...(await made(request, point, before, after, prefix, held)), held, prefix, after, close };
  } catch (error) {
    await close();
    throw error;
  }
}

async function made(
  { root, base, head, cache, published, shapes, progress = () => undefined }: ReviewRequest,
  point: BranchPoint,
  before: OpenCheck,
  after: OpenCheck,
  prefix: string,
  held: HeldShapes | null,
): Promise<Pick<OpenChange, 'review' | 'pairs' | 'audits'>> {
  const changed = await changedVariants(before.state, after.state);
  const total = changed.reduce((sum, each) => sum + partsOf(each), 0);
  const reviewed = await withWorkers(cache, held, total, progress, async workers => {
    const means: VariantMeans = {
      ...workers,
      before: before.state,
      after: after.state,
      contentOf: after.options.contentOf,
      descendantsOf: descendantsIn(after.state),
    };
    return mapAhead(changed, inWork, each => reviewVariant(each, means));
  });
  const pairs = new Map(reviewed.flatMap(each => [...each.pairs]));
  const variants = reviewed.map(({ review }) => review);
  const addresses = changed.map(({ address }) => address);
  const below = prefix === '' ? '' : `${prefix}/`;
  const files =
    head === null
      ? await listedChanges(before.state, after.state, below)
      : await changedFiles(root, point.commit, point.head);
  const beside = await withKinds(
    files.filter(({ path }) => !isOfVariant(path, below, addresses)),
    below,
    before.state,
    after.state,
  );
  const checks = await newChecks(before, after, addresses);
  const audits = await newAudits(before, after, addresses, { published, shapes });
  const findings = withBlocking(
    [
      ...toldOnce(
        reviewed.flatMap(each => variantFindings(each, before.state, after.state)),
        checks,
        audits.findings.map(ofAudit).filter(({ code }) => !licenseUnknown(code, after.state)),
      ),
      ...fileFindings(beside, below, (before.state.registry?.value ?? null) !== null),
    ],
    // A submission does not loosen what it is judged by, also where there was nothing before, or nothing to be read.
    before.state.registry?.value?.policy?.review ?? null,
  );
  cache.flush();
  const counts = countsOfReview(findings);
  const review: Review = {
    registry: registryName(after.state, before.state),
    before: { name: base, commit: point.commit },
    after: { name: head ?? 'the working copy', commit: head === null ? null : point.head },
    commits: head === null ? null : { after: point.after, elsewhere: point.elsewhere, shared: point.shared },
    decision: decisionOf(variants, beside, counts),
    variants,
    files: beside,
    findings,
    counts,
  };
  return { review, pairs, audits };
}

/** Variants that are begun before the first of them is done: a part that takes long leaves no thread idle. */
const inWork = 4;

/** How many parts there are to compare, as far as the manifest can be read. */
function partsOf({ before, after }: ChangedVariant): number {
  return Math.max(...[before, after].map(side => side?.document.value?.parts.length ?? 0));
}

/** Variants made from one, in any number of steps, without itself. */
export function descendantsIn(state: RegistryState): (address: string) => readonly string[] {
  const graph = lineageOf(state);
  const index = indexLineage(graph);
  const addressOf = new Map(graph.nodes.map(node => [node.id, node.address]));
  const idsOf = new Map<string, string[]>();
  for (const { id, address } of graph.nodes) idsOf.set(address, [...(idsOf.get(address) ?? []), id]);
  return address => {
    const reached = descendantsOf(index, idsOf.get(address) ?? []).map(id => addressOf.get(id) ?? id);
    return [...new Set(reached)].filter(each => each !== address).sort(byText);
  };
}

function isOfVariant(path: string, root: string, addresses: readonly string[]): boolean {
  return addresses.some(address => path.startsWith(`${root}devices/${address}/`));
}

/** Of a working copy: files of the registry that came, went or changed. What else lies in the folder is not looked at. */
async function listedChanges(
  before: RegistryState,
  after: RegistryState,
  root: string,
): Promise<PathChange[]> {
  const [old, now] = await Promise.all(
    [before, after].map(async ({ files }) => new Map((await files.list()).map(ref => [ref.path, ref]))),
  );
  const changes: PathChange[] = [];
  for (const path of new Set([...old.keys(), ...now.keys()])) {
    const [was, is] = [old.get(path), now.get(path)];
    if (was === undefined || is === undefined)
      changes.push({ path: root + path, change: was === undefined ? 'added' : 'removed' });
    else if (
      was.problem === null &&
      is.problem === null &&
      (await before.files.sha256(was)) !== (await after.files.sha256(is))
    )
      changes.push({ path: root + path, change: 'changed' });
  }
  return changes.sort((a, b) => byText(a.path, b.path));
}

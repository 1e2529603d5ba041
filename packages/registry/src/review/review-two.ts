import { InputError } from '@kinprint/mesh';
import type { Content } from '../check/likeness.ts';
import { openCheck, type OpenCheck } from '../check/open-check.ts';
import { repositoryPrefix, variantOf } from '../history/content-at.ts';
import { unusableManifest } from '../state/digest.ts';
import { countsOfReview, decisionOf, withBlocking } from './blocking.ts';
import { holdShapes, type HeldShapes } from './held-shapes.ts';
import { auditsOf, checksOf } from './new-findings.ts';
import { variantFindings } from './own-findings.ts';
import { descendantsIn, type OpenReview, type ReviewRequest } from './review-change.ts';
import { contentHere, reviewContents } from './review-variant.ts';
import { toldOnce } from './told-once.ts';
import { registryName, withUsableRegistry } from './usable-registry.ts';
import { withWorkers } from './with-workers.ts';

export interface TwoRequest extends Omit<ReviewRequest, 'base' | 'head'> {
  /** `device/variant`, or `device/variant@B`. */
  readonly before: string;
  readonly after: string;
}

/**
 * Reviews a variant beside another one, or two letters of one variant, as the registry's folder and history have them.
 * Checks and the license audit speak of AFTER, where it is what lies in the folder.
 *
 * @throws InputError `variant-unknown`, `letter-unknown`, `content-missing`, `address-bad`
 */
export async function reviewTwo(request: TwoRequest): Promise<OpenReview> {
  const { root, cache } = request;
  const open = withUsableRegistry(await openCheck(root, null, cache));
  const held = request.drawn ? holdShapes() : null;
  const close = async (): Promise<void> => {
    await Promise.all([open.close(), held?.close()]);
  };
  try {
    const prefix = (await repositoryPrefix(root)) ?? '';
    return { ...(await made(request, open, held)), held, prefix, close };
  } catch (error) {
    await close();
    throw error;
  }
}

async function made(
  { before, after, cache, published, shapes, progress = () => undefined }: TwoRequest,
  open: OpenCheck,
  held: HeldShapes | null,
): Promise<Pick<OpenReview, 'review' | 'pairs'>> {
  const { state } = open;
  const [old, now] = [addressOf(before), addressOf(after)];
  const [was, is] = [await contentOf(old, open), await contentOf(now, open)];
  const same = old.address === now.address;
  const total = is.manifest.parts.length;
  const reviewed = await withWorkers(cache, held, total, progress, workers =>
    reviewContents(
      {
        address: now.address,
        change: same ? 'changed' : 'added',
        against: { ...old, relation: null },
        older: [was],
        was: same ? was : null,
        is,
      },
      {
        ...workers,
        before: state,
        after: state,
        contentOf: open.options.contentOf,
        descendantsOf: descendantsIn(state),
      },
    ),
  );
  const present = now.letter === null ? [now.address] : [];
  const findings = withBlocking(
    toldOnce(
      variantFindings(reviewed, state, state),
      await checksOf(open, present),
      await auditsOf(open, present, { published, shapes }),
    ),
    state.registry?.value?.policy?.review ?? null,
  );
  cache.flush();
  const counts = countsOfReview(findings);
  const variants = [reviewed.review];
  return {
    pairs: reviewed.pairs,
    review: {
      registry: registryName(state),
      before: { name: before, commit: null },
      after: { name: after, commit: null },
      commits: null,
      decision: decisionOf(variants, [], counts),
      variants,
      files: [],
      findings,
      counts,
    },
  };
}

interface Named {
  readonly address: string;
  readonly letter: string | null;
}

function addressOf(name: string): Named {
  const [address, letter, ...more] = name.split('@');
  if (more.length === 0 && letter !== '' && /^[^/]+\/[^/]+$/.test(address))
    return { address, letter: letter ?? null };
  throw new InputError(
    'address-bad',
    `'${name}' is no address of a variant.`,
    'Write DEVICE/VARIANT or DEVICE/VARIANT@LETTER for both; or BASE..HEAD, two git revisions, as one word.',
  );
}

/** What lies there now, or what a letter was. */
async function contentOf({ address, letter }: Named, { state, options }: OpenCheck): Promise<Content> {
  const variant = variantOf(state, address);
  if (letter === null) {
    const content = contentHere(state, variant);
    if (content === null) throw unusableManifest(variant);
    return content;
  }
  const content = await options.contentOf(address, letter, null);
  if (content !== null) return content;
  throw new InputError(
    'content-missing',
    `The content of ${address}@${letter} cannot be had.`,
    'Fetch the whole history, or name a later letter.',
    { file: variant.document.file },
  );
}

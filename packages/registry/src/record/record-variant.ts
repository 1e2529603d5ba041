import type { RevisionEntry } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { noCache } from '../cache/cache.ts';
import { registryDefaults } from '../defaults.ts';
import { readHead, readHeadAgain, type Head } from '../git/head.ts';
import { changedMeanwhile } from '../git/store-files.ts';
import {
  authorName,
  branchBusy,
  changedTree,
  makeCommit,
  moveBranch,
  refreshIndex,
} from '../git/write-commit.ts';
import { presentContent, revisionContent, stateHistory, variantOf } from '../history/content-at.ts';
import { folderDigest, unusableManifest } from '../state/digest.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { chooseLetter, type LetterChoice } from './choose-letter.ts';
import { commitMessage } from './commit-message.ts';
import { committedVariant, type CommittedVariant } from './committed-variant.ts';
import { judgeDate } from './judge-date.ts';
import { branchesOf, lettersElsewhere } from './letters-elsewhere.ts';
import { mendIndex } from './mend-index.ts';
import { planCommit, type CommitPlan } from './plan-commit.ts';
import { checkRevisions, contentRecorded, type Situation } from './situation.ts';
import { summarizeChanges } from './summarize-changes.ts';
import type { Draft, RecordOptions, RecordOutcome } from './record.ts';
import { verifyTree } from './verify-tree.ts';
import { besideManifest, clearAbandoned, withEntries } from './write-manifest.ts';

/**
 * Fixes a variant's present content as its next revision: appends letter, digest and changes to its manifest and
 * commits the variant's folder, and nothing else, to the branch that is checked out.
 *
 * The branch is moved by compare and swap. Of two that record the same variant at once one wins and the other is
 * told; two different variants are both recorded, one upon the other. Ended at any point, the history is either as
 * before or holds the whole revision; recording again completes what was left.
 *
 * @param state a working copy
 * @throws InputError for what keeps it from being recorded; nothing is changed then
 */
export async function recordVariant(
  state: RegistryState,
  address: string,
  options: RecordOptions,
): Promise<RecordOutcome> {
  const root = state.files.root;
  if (root === null) throw new Error('Only a working copy can be recorded.');
  const variant = variantOf(state, address);
  const reach = options.at ?? (() => undefined);
  reach('begun');
  const head = await readHead(root);
  clearAbandoned(root, variant.folder);
  const committed = await committedVariant(root, head, variant);

  const findings = await (options.check ?? stateFindings)(state, address);
  if (findings.some(finding => finding.severity === 'error')) return { kind: 'refused', address, findings };
  const manifest = variant.document.value;
  if (manifest === null) throw unusableManifest(variant);
  const digest = await folderDigest(state.files, variant.folder, manifest, variant.files);
  const draft: Draft = { content: presentContent(state, variant), digest };
  const situation = checkRevisions(variant, committed, digest);

  if (situation.kind !== 'next' && options.letter !== undefined && options.letter !== situation.entry.letter)
    throw contentRecorded(situation.entry.letter, variant.document.file);
  switch (situation.kind) {
    case 'unchanged':
      if (options.dryRun !== true) await mendIndex(root, head, variant);
      return { kind: 'unchanged', address, entry: situation.entry };
    case 'manifest-behind': {
      // Recorded, and ended before the manifest was written: only that is left.
      if (options.dryRun === true || head.commit === null) return wouldComplete(address, situation.entry);
      const beside = besideManifest(root, variant, withEntries(variant, situation.missing));
      try {
        if (!beside.takePlace()) throw changedMeanwhile(variant.document.file);
      } finally {
        beside.remove();
      }
      await mendIndex(root, head, variant);
      return completed(address, situation.entry, head.commit, []);
    }
    case 'uncommitted': {
      if (options.dryRun === true) return wouldComplete(address, situation.entry);
      const done = await commitDraft(root, head, variant, draft, committed, situation.entry, null, options);
      return completed(address, situation.entry, done.commit, done.notes);
    }
    case 'next':
      break;
  }

  const { entry, notes } = await nextEntry(state, address, head, draft, situation, options);
  if (options.dryRun === true) return { kind: 'dry-run', address, entry, commit: null, notes };
  const entries = [...situation.missing, entry];
  const done = await commitDraft(root, head, variant, draft, committed, entry, entries, options);
  return { kind: 'recorded', address, entry, commit: done.commit, notes: [...notes, ...done.notes] };
}

function wouldComplete(address: string, entry: RevisionEntry): RecordOutcome {
  const notes = [`The recording of ${entry.letter} is not complete; recording would complete it.`];
  return { kind: 'dry-run', address, entry, commit: null, notes };
}

function completed(
  address: string,
  entry: RevisionEntry,
  commit: string,
  notes: readonly string[],
): RecordOutcome {
  return { kind: 'completed', address, entry, commit, notes };
}

/** What the registry's own reading objects to, where no fuller check is handed in. */
function stateFindings(state: RegistryState, address: string): Promise<readonly RefusalProblem[]> {
  const variant = variantOf(state, address);
  const near = state.problems.filter(problem => problem.file.startsWith(variant.folder));
  return Promise.resolve([...near, ...variant.document.problems]);
}
type RefusalProblem = RegistryState['problems'][number];

/** The letter, and what changed since the one before it. */
async function nextEntry(
  state: RegistryState,
  address: string,
  head: Head,
  draft: Draft,
  { own, last }: Situation,
  options: RecordOptions,
): Promise<{ readonly entry: RevisionEntry; readonly notes: readonly string[] }> {
  const root = state.files.root ?? '';
  const judged = judgeDate(options, last);
  const elsewhere = await lettersElsewhere(
    state,
    head,
    variantOf(state, address),
    own,
    options.cache ?? noCache(),
  );
  const choice = chooseLetter(
    last,
    draft.digest,
    elsewhere.recordings,
    options.letter ?? null,
    draft.content.document.file,
  );
  const notes = [...elsewhere.notes, ...(await letterNotes(root, choice))];
  if (judged.note !== null) notes.push(judged.note);
  const changes = [options.summary, judged.change].filter(line => line !== undefined && line !== null);
  if (last !== null) {
    const history = stateHistory(root);
    try {
      const before = await lastContent(state, address, last, history);
      if (before.found)
        changes.push(
          ...(await summarizeChanges(
            before.content,
            draft.content,
            options.progress === undefined ? {} : { progress: options.progress },
          )),
        );
      else changes.push(`changes since ${last.letter} cannot be told: ${before.text}`);
    } finally {
      await history.close();
    }
  }
  const entry: RevisionEntry = {
    letter: choice.letter,
    digest: draft.digest,
    date: judged.date,
    by: options.by ?? (await authorName(root)),
    ...(changes.length === 0 ? {} : { changes: changes.slice(0, 1000) }),
  };
  return { entry, notes };
}

/** Why it is not simply the next letter. */
async function letterNotes(root: string, { letter, shared, skipped }: LetterChoice): Promise<string[]> {
  const notes: string[] = [];
  for (const one of skipped)
    notes.push(`${one.letter} was skipped: it means other content ${await branchesOf(root, one.commit)}.`);
  if (shared !== null)
    notes.push(
      `This content is recorded as ${letter} ${await branchesOf(root, shared.commit)}, so it is ${letter} here.`,
    );
  return notes;
}

async function lastContent(
  state: RegistryState,
  address: string,
  last: RevisionEntry,
  history: ReturnType<typeof stateHistory>,
) {
  const known = variantOf(state, address).document.value?.revisions?.some(
    item => item.letter === last.letter,
  );
  if (known === true) return revisionContent(state, address, last.letter, history);
  // Recorded by somebody else, and not yet in the manifest here.
  const opened = await history.open();
  return opened === null
    ? ({ found: false, reason: 'no-repository', text: 'there is no repository' } as const)
    : opened.find(last, variantOf(state, address).folder);
}

/**
 * Commits the variant's folder, with new entries in its manifest where there are any, upon the branch as it is; tries
 * again as long as others move the branch without touching this variant.
 */
async function commitDraft(
  root: string,
  firstHead: Head,
  variant: VariantState,
  draft: Draft,
  seen: CommittedVariant,
  entry: RevisionEntry,
  entries: readonly RevisionEntry[] | null,
  options: RecordOptions,
): Promise<{ readonly commit: string; readonly notes: readonly string[] }> {
  const reach = options.at ?? (() => undefined);
  const text = entries === null ? variant.document.text : withEntries(variant, entries);
  const message = commitMessage(variant, entry);
  let head = firstHead;
  let plan: CommitPlan | null = null;
  for (let tries = 0; tries < registryDefaults.commitTries; tries++) {
    const committed = tries === 0 ? seen : await committedVariant(root, head, variant);
    if (committed.tree !== seen.tree) throw overtaken(variant, committed);
    plan = await planCommit(root, head, variant, committed, text, plan);
    reach('stored');
    const tree = await changedTree(root, head, plan.change);
    await verifyTree(root, tree, head, variant, draft.digest);
    const commit = await makeCommit(root, head, tree, message);
    reach('committed');
    const beside = entries === null ? null : besideManifest(root, variant, text);
    try {
      reach('manifest-beside');
      if (beside !== null && !beside.unchanged()) throw changedMeanwhile(variant.document.file);
      if (await moveBranch(root, head, commit, `kinprint record: ${variant.address}@${entry.letter}`)) {
        reach('branch-moved');
        const notes: string[] = [];
        if (beside !== null && !beside.takePlace())
          notes.push(
            `${variant.document.file} was edited meanwhile and was left alone; record again to write the letter into it.`,
          );
        reach('manifest-written');
        if (!(await refreshIndex(root, plan.change)))
          notes.push("git's index is in use by another program; git status may show the folder as changed.");
        reach('done');
        return { commit, notes };
      }
    } finally {
      beside?.remove();
    }
    head = await readHeadAgain(root, firstHead, 'Nothing was recorded.', 'Record');
  }
  throw branchBusy(root, firstHead, 'Nothing was recorded.');
}

function overtaken(variant: VariantState, committed: CommittedVariant): InputError {
  const last = committed.revisions.at(-1);
  return new InputError(
    'recorded-meanwhile',
    last === undefined
      ? `Somebody else committed to ${variant.address} meanwhile.`
      : `Somebody else committed to ${variant.address} meanwhile; its last letter is now ${last.letter}${last.by === undefined ? '' : `, by ${last.by}`}.`,
    'Nothing was recorded and nothing is lost: your files are as they were. Look at the new commit, then record again.',
    { file: variant.document.file },
  );
}

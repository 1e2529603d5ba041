import { byText } from '@kinprint/compare';

/** A part of the history that cannot be read, told to a person. */
export interface HistoryGap {
  readonly text: string;
  readonly remedy: string;
}

/** What of the history could not be read. */
export interface Unread {
  /**
   * - `reference`: a name that stands for nothing that is here.
   * - `commit`, `folder`: an object of a commit's history, or of its tree.
   * - `manifest`: the text of one version of a manifest.
   * - `rest`: what lies beyond the bound of what is read.
   */
  readonly what: 'reference' | 'commit' | 'folder' | 'manifest' | 'rest';
  readonly state: 'missing' | 'damaged' | 'broken' | 'too-much';
  /** The reference through which it was met; null where that is not known. */
  readonly reference: string | null;
  /** The object; null for a reference that holds no id. */
  readonly id: string | null;
}

/** References that are named one by one; beyond, one sentence stands for the rest. */
const named = 20;

/**
 * What could not be read, in sentences: of each reference one for each kind of thing.
 *
 * @param partial whether the repository is a partial clone, whose missing objects are only not fetched
 */
export function gapsOf(unread: readonly Unread[], partial: boolean): HistoryGap[] {
  const groups = new Map<string, Unread[]>();
  for (const one of unread) {
    const key = `${one.reference ?? ''}\0${one.what}\0${one.state}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  const sorted = [...groups].sort(([a], [b]) => byText(a, b)).map(([, group]) => group);
  const shown = sorted.length > named ? sorted.slice(0, named - 1) : sorted;
  const gaps = shown.map(group => ({ text: textOf(group), remedy: remedyOf(group[0], partial) }));
  const left = sorted.slice(shown.length);
  if (left.length > 0)
    gaps.push({
      text: `Of ${new Set(left.map(([{ reference }]) => reference)).size} more references, too, something cannot be read.`,
      remedy: remedyOf(left[0][0], partial),
    });
  return gaps;
}

function textOf(group: readonly Unread[]): string {
  const [{ what, state, reference, id }] = group;
  const history = reference === null ? 'In the history' : `In the history of ${reference}`;
  const count = new Set(group.map(one => one.id)).size;
  const which = count === 1 ? (id ?? '') : `${id ?? ''} first`;
  switch (what) {
    case 'reference':
      return state === 'broken'
        ? `${reference ?? ''} is broken: it names no object at all.`
        : `${reference ?? ''} names the object ${id ?? ''}, which is ${state}.`;
    case 'commit':
      return `${history}, ${count === 1 ? 'one commit is' : `${count} commits are`} ${state} (${which}); what came before is not known.`;
    case 'folder':
      return `${history}, ${count === 1 ? 'one folder is' : `${count} folders are`} ${state} (${which}).`;
    case 'manifest':
      return `${history}, ${count === 1 ? 'one version of a manifest is' : `${count} versions of manifests are`} ${state} (${which}).`;
    case 'rest':
      return `${history} there is more than is read of a damaged one.`;
  }
}

function remedyOf({ what, state, reference }: Unread, partial: boolean): string {
  if (state === 'too-much') return 'Mend the repository (git fsck tells what is wrong), then run this again.';
  if (what === 'reference' && state === 'broken')
    return `Remove its file from the git folder, or write the id of a commit in it.`;
  if (partial && state === 'missing')
    return 'This is a partial clone, and nothing is fetched unasked. Complete it: git fetch --refetch --no-filter.';
  if (what === 'reference' && reference !== 'HEAD')
    return `Fetch it, or remove the reference: git update-ref -d ${reference ?? ''}.`;
  return state === 'missing'
    ? 'Fetch it from another clone (git fetch REMOTE); git fsck tells all that is missing.'
    : 'Take the object from another clone; git fsck tells all that is damaged.';
}

import type { Pairing, PartProblem, PartVerdict, Comparison } from '@kinprint/compare';
import type { Part } from '@kinprint/manifest';
import type { Unit } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { Content } from '../check/likeness.ts';
import { unitOf } from '../check/measure-parts.ts';
import type { EntryProblem, SnapshotEntry } from '../snapshot/types.ts';
import { entryOf } from '../state/entries.ts';
import type { FileRef } from '../state/registry-files.ts';
import { compareTrees } from '../work/compare-trees.ts';
import type { WorkPool } from '../work/pool.ts';
import { compareSides, inUnit } from './compare-sides.ts';
import type { HeldShapes } from './held-shapes.ts';
import { isKeptComparison } from './kept-comparison.ts';

/** A part on one side, with its mesh. */
export interface SidePart {
  readonly part: Part;
  /** Its index in its manifest. */
  readonly index: number;
  readonly content: Content;
  /** null where the file that the manifest names is not there. */
  readonly ref: FileRef | null;
  readonly unit: Unit | null;
}

/** Two parts that belong together, or one alone. */
export interface PairedPart {
  readonly before: SidePart | null;
  readonly after: SidePart | null;
  readonly pairing: Pairing;
  readonly verdict: PartVerdict;
  readonly comparison: Comparison | null;
  readonly problem: PartProblem | null;
}

export interface PairMeans {
  readonly pool: WorkPool;
  readonly cache: Cache;
  /** Where solids are held that will be drawn; null where nothing will be. */
  readonly held: HeldShapes | null;
  readonly progress?: (pairs: number) => void;
}

const kind = 'part-comparison';
/** Rises with any change of what comparisons find. */
const version = 1;

/**
 * Pairs the parts of two contents and compares them: by their ids, and those left over by what their meshes hold.
 *
 * @param before several where AFTER was made from several: each part is compared with the one of its id that it is the
 *   same as, else with that of the first content that has one
 */
export async function pairParts(
  before: readonly Content[],
  after: Content | null,
  means: PairMeans,
): Promise<PairedPart[]> {
  const old = before.map(partsOf);
  const now = after === null ? [] : partsOf(after);
  const pairs: Promise<PairedPart>[] = [];
  const paired = new Set<SidePart>();
  const alone: SidePart[] = [];
  for (const is of now) {
    const was = await nearest(
      is,
      old.flatMap(parts => parts.find(({ part }) => part.id === is.part.id) ?? []),
    );
    if (was === null) {
      alone.push(is);
      continue;
    }
    paired.add(was);
    pairs.push(comparePart(was, is, means).finally(() => means.progress?.(1)));
  }
  // What one of several parents has and the whole has not was chosen so, and is no loss.
  const gone = (old.length === 1 ? old[0] : []).filter(part => !paired.has(part));
  return [...(await Promise.all(pairs)), ...(await pairByShape(gone, alone, means))];
}

function partsOf(content: Content): SidePart[] {
  const refs = new Map(content.refs.map(ref => [ref.path.slice(content.folder.length + 1), ref]));
  return content.manifest.parts.map((part, index) => ({
    part,
    index,
    content,
    ref: refs.get(part.mesh) ?? null,
    unit: unitOf(part.unit),
  }));
}

async function nearest(is: SidePart, candidates: readonly SidePart[]): Promise<SidePart | null> {
  if (candidates.length < 2) return candidates[0] ?? null;
  const entry = is.ref === null ? null : await entryOf(is.content.files, is.ref);
  for (const was of candidates) {
    if (was.ref === null || entry?.digest === null) continue;
    if ((await entryOf(was.content.files, was.ref)).digest === entry?.digest) return was;
  }
  return candidates[0];
}

async function comparePart(
  was: SidePart,
  is: SidePart,
  { pool, cache, held }: PairMeans,
): Promise<PairedPart> {
  const base = { before: was, after: is, pairing: 'path' as const };
  const entries = [await entry(was), await entry(is)] as const;
  const trouble = problemOf(was, entries[0], 'before') ?? problemOf(is, entries[1], 'after');
  const [from, to] = entries;
  if (trouble !== null || from === null || to === null)
    return { ...base, verdict: 'unreadable', comparison: null, problem: trouble };
  if (from.digest === to.digest && was.unit === is.unit)
    return { ...base, verdict: 'identical', comparison: null, problem: null };
  const key = [from.digest, was.unit ?? '', to.digest, is.unit ?? ''].join(' ');
  const known = cache.get(kind, version, key);
  if (isKeptComparison(known)) return { ...base, verdict: known.verdict, comparison: known, problem: null };
  const sides = [
    { entry: from, unit: was.unit },
    { entry: to, unit: is.unit },
  ] as const;
  const outcome = await compareSides(pool, ...sides, held !== null);
  switch (outcome.state) {
    case 'done': {
      const { comparison, shapes } = outcome.result;
      await held?.keep(comparison, shapes);
      if (was.content.files.kind === 'commit' && is.content.files.kind === 'commit')
        cache.put(kind, version, key, comparison);
      return { ...base, verdict: comparison.verdict, comparison, problem: null };
    }
    case 'input-error': {
      const { code, message: text, remedy } = outcome.error;
      const problem = { code, text, remedy, side: outcome.side ?? ('both' as const) };
      return { ...base, verdict: 'unreadable', comparison: null, problem };
    }
    case 'fault':
      return { ...base, verdict: 'failed', comparison: null, problem: faultOf(outcome.text) };
  }
}

async function entry({ content, ref }: SidePart): Promise<SnapshotEntry | null> {
  return ref === null ? null : entryOf(content.files, ref);
}

function problemOf(
  { part }: SidePart,
  found: SnapshotEntry | null,
  side: 'before' | 'after',
): PartProblem | null {
  if (found === null)
    return {
      code: 'file-missing',
      side,
      text: `The mesh '${part.mesh}' is not there.`,
      remedy: 'Add the file, or correct its name in the manifest.',
    };
  const problem: EntryProblem | null = found.problem;
  return problem === null ? null : { ...problem, side };
}

function faultOf(text: string): PartProblem {
  return {
    code: 'fault',
    side: 'both',
    text: `The comparison failed by a fault of the program: ${text.split('\n')[0]}`,
    remedy: 'Please report it with the two files.',
  };
}

/** Parts without one of their id on the other side: renamed, made from one another, or new and gone. */
async function pairByShape(
  gone: readonly SidePart[],
  alone: readonly SidePart[],
  { pool, held, progress }: PairMeans,
): Promise<PairedPart[]> {
  const pairs: PairedPart[] = [];
  for (const unit of new Set([...gone, ...alone].map(part => part.unit))) {
    const lots = [gone, alone].map(
      parts => new Map(parts.filter(p => p.unit === unit).map(p => [p.part.id, p])),
    );
    const [old, now] = lots;
    const tree = await compareTrees(
      await snapshot(old, 'before'),
      await snapshot(now, 'after'),
      inUnit(unit),
      { pool, ...(held === null ? {} : { keep: (...solids) => held.keep(...solids) }) },
    );
    for (const { before, after, pairing, verdict, comparison, problem } of tree.parts) {
      const was = before === null ? null : (old.get(before) ?? null);
      const is = after === null ? null : (now.get(after) ?? null);
      pairs.push({ before: was, after: is, pairing, verdict, comparison, problem });
      progress?.(1);
    }
    for (const [parts, side] of [
      [old, 'before'],
      [now, 'after'],
    ] as const)
      for (const part of parts.values())
        if (part.ref === null) {
          const ends = side === 'before' ? { before: part, after: null } : { before: null, after: part };
          pairs.push({
            ...ends,
            pairing: side === 'before' ? 'removed' : 'added',
            verdict: 'unreadable',
            comparison: null,
            problem: problemOf(part, null, side),
          });
        }
  }
  return pairs;
}

/** The parts as files named by their ids. */
async function snapshot(parts: ReadonlyMap<string, SidePart>, name: string) {
  const entries: SnapshotEntry[] = [];
  for (const [id, { content, ref }] of parts)
    if (ref !== null) entries.push({ ...(await entryOf(content.files, ref)), path: id });
  entries.sort((a, b) => (a.path < b.path ? -1 : 1));
  return { name, kind: 'tree' as const, entries, notes: [], close: () => Promise.resolve() };
}

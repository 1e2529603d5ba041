import { InputError, type Note, type Unit } from '@kinprint/mesh';
import type { PartComparison, ShapeSummary } from '@kinprint/compare';
import { openPool } from '../../work/pool.ts';
import type { FileReport } from '../../work/task.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import { compareStates, readableMeshes } from '../history/lots.ts';
import { firstState, lastState, latest, partLines, type PartLine } from '../history/part-lines.ts';
import type { Source, SourceState } from '../source/types.ts';
import { scaledLikeness } from './alike.ts';
import { areHanded, judgeHands, withoutTwin, type HandJudgment } from './hands.ts';
import { findKinPairs, type KinCandidate, type KinPair } from './kin-pairs.ts';
import { nameWords, plainName } from './name-words.ts';
import { shapeWork, type ShapeWork, type UnitOf } from './shape-work.ts';
import { findSizes, type Sizes } from './sizes.ts';
import { judgeUnit } from './unit.ts';

/** Everything found out about a source, before it is decided what becomes of it. */
export interface Analysis {
  /** Oldest first; those that are looked at. */
  readonly states: readonly SourceState[];
  /** What changed from each state to the next. */
  readonly steps: readonly (readonly PartComparison[])[];
  /** Parts whose latest file is a mesh. */
  readonly parts: readonly FoundPart[];
  readonly pairs: readonly KinPair[];
  readonly sizes: Sizes;
  /** Why the unit must be looked at; null when nothing speaks against it. */
  readonly unitUnsettled: string | null;
  readonly leftOut: readonly { readonly path: string; readonly why: string }[];
  readonly notes: readonly Note[];
}

/** A part through the history, and what its latest file is. */
export interface FoundPart extends KinCandidate {
  readonly line: PartLine;
  /** Whether the last state holds it. */
  readonly present: boolean;
  readonly report: FileReport;
  /** Bodies of the latest file: separate pieces, each with its cavities; 1 also where there are too many to pair. */
  readonly bodies: number;
  /** Whether these cannot be told apart by their volumes, areas and extents: copies, or mirror images. */
  readonly alikeBodies: boolean;
  readonly shape: ShapeSummary;
  /** null: its own, or millimeters. */
  readonly unit: Unit | null;
  /** So small that the unit may be another one, though the other files are not. */
  readonly small: boolean;
  readonly hand: HandJudgment;
}

export interface AnalyzeOptions {
  /** Read the numbers as this unit, whatever the files say. */
  readonly unit?: Unit | null;
  /** Told what is being done. */
  readonly progress?: (text: string) => void;
}

/**
 * Looks at every mesh of a source, follows each through the history, and compares those that may be twins or sizes.
 *
 * @throws InputError `no-mesh` when the last state holds no mesh that can be read
 */
export async function analyze(source: Source, options: AnalyzeOptions = {}): Promise<Analysis> {
  const asked = options.unit ?? null;
  const progress = options.progress ?? (() => undefined);
  const states = source.states.slice(-adoptDefaults.maxStates);
  const now = readableMeshes(states[states.length - 1]);

  const pool = openPool(amountOf(states));
  try {
    const work = shapeWork(pool);
    progress(`measuring ${now.length} files`);
    const reports = await Promise.all(now.map(file => work.measure(file, asked)));
    const unit = judgeUnit(
      reports.map(report => (report instanceof InputError ? null : report)),
      asked,
    );
    const ownUnit = new Set(now.filter((_, i) => statesUnit(reports[i])).map(file => file.digest));
    const unitOf: UnitOf = ({ path, digest }) => {
      if (asked !== null) return asked;
      // 3MF states its unit (3MF Core Specification 1.4.0, 3.4); of earlier files, the ending has to tell.
      return ownUnit.has(digest) || path.toLowerCase().endsWith('.3mf') ? null : unit.unit;
    };

    const steps: PartComparison[][] = [];
    for (let k = 1; k < states.length; k++) {
      progress(`comparing state ${k} of ${states.length - 1} with the next`);
      steps.push(await compareStates(states[k - 1], states[k], unitOf, pool));
    }
    const lines = partLines(states, steps);
    progress(`comparing ${lines.length} parts with each other`);
    const looks = await Promise.all(lines.map(line => look(line, work, unitOf, states.length)));
    const found = looks.flatMap(result => ('why' in result ? [] : [result]));
    const leftOut = looks.flatMap(result =>
      'why' in result && result.present ? [{ path: result.path, why: result.why }] : [],
    );
    if (!found.some(part => part.present)) throw noMesh(source, leftOut);
    const pairs = await findKinPairs(found, (a, b) => work.relate(a, b, unitOf));
    const hands = judgeHands(found, pairs, await symmetries(found, pairs, unitOf, work));
    const smallFiles = new Set(unit.small.map(i => now[i].path));
    return {
      states,
      steps,
      pairs,
      leftOut: [...leftOut, ...withoutContent(states[states.length - 1])],
      sizes: findSizes(
        found.filter(part => part.present),
        pairs,
      ),
      unitUnsettled: unit.unsettled,
      notes: [...source.notes, ...olderStates(source.states.length - states.length)],
      parts: found.map(part => ({
        ...part,
        unit: statedUnit(unitOf(part.entry)),
        small: part.present && smallFiles.has(part.entry.path),
        hand: hands.get(part.key) ?? { hand: null, unsettled: null, twin: null },
      })),
    };
  } finally {
    await pool.close();
  }
}

/** Each content counts once. */
function amountOf(states: readonly SourceState[]): { readonly bytes: number; readonly tasks: number } {
  const contents = new Map(
    states.flatMap(readableMeshes).map(file => [file.digest ?? file.path, file.size ?? 0]),
  );
  return { bytes: [...contents.values()].reduce((sum, size) => sum + size, 0), tasks: contents.size };
}

/** Millimeters need not be said. */
function statedUnit(unit: Unit | null): Unit | null {
  return unit === 'millimeter' ? null : unit;
}

function statesUnit(report: FileReport | InputError): boolean {
  return !(report instanceof InputError) && !report.whole.unit_assumed;
}

type Look =
  | Omit<FoundPart, 'unit' | 'small' | 'hand'>
  | { readonly path: string; readonly why: string; readonly present: boolean };

async function look(line: PartLine, work: ShapeWork, unitOf: UnitOf, stateCount: number): Promise<Look> {
  const entry = latest(line);
  const present = lastState(line) === stateCount - 1;
  const report = await work.measure(entry, unitOf(entry));
  if (report instanceof InputError) return { path: entry.path, why: report.message, present };
  const summary = await work.summarize(entry, unitOf(entry));
  if (summary === null) return { path: entry.path, why: 'The file cannot be read.', present };
  if (report.whole.triangles === 0) return { path: entry.path, why: 'There is no face in it.', present };
  return {
    key: line.key,
    line,
    entry,
    present,
    report,
    bodies: Math.max(1, summary.bodies.length),
    alikeBodies: areAlike(summary.bodies),
    shape: summary.whole,
    words: nameWords(entry.path, adoptDefaults.smallestSizeNumber),
    plain: plainName(entry.path),
    from: firstState(line),
    to: lastState(line),
  };
}

function areAlike([first, ...others]: readonly ShapeSummary[]): boolean {
  return (
    others.length > 0 &&
    others.every(other => {
      const likeness = scaledLikeness(first, other);
      return (
        likeness !== null &&
        likeness.rest <= adoptDefaults.scaledAlike &&
        Math.abs(likeness.factor - 1) < 1e-3
      );
    })
  );
}

/** Whether each part without a twin is its own mirror image; asked only where hands matter. */
async function symmetries(
  parts: readonly (KinCandidate & { readonly bodies: number })[],
  pairs: readonly KinPair[],
  unitOf: UnitOf,
  work: ShapeWork,
): Promise<Map<number, boolean | null>> {
  if (!areHanded(parts, pairs)) return new Map();
  const asked = withoutTwin(parts, pairs).filter(part => part.bodies === 1);
  return new Map(
    await Promise.all(
      asked.map(
        async part =>
          [
            part.key,
            await work.symmetric(part.entry, unitOf(part.entry), adoptDefaults.symmetric_mm),
          ] as const,
      ),
    ),
  );
}

/** Meshes of the last state whose content is not here. */
function withoutContent(state: SourceState): { path: string; why: string }[] {
  return state.files.flatMap(({ path, problem }) =>
    problem === null ? [] : [{ path, why: `${problem.text} ${problem.remedy}` }],
  );
}

function olderStates(count: number): Note[] {
  if (count <= 0) return [];
  const text = `${count} older ${count === 1 ? 'state was' : 'states were'} not compared and ${count === 1 ? 'is' : 'are'} not adopted; ${adoptDefaults.maxStates} are looked at.`;
  return [{ code: 'states-left-out', text }];
}

function noMesh(
  source: Source,
  leftOut: readonly { readonly path: string; readonly why: string }[],
): InputError {
  const first = leftOut[0];
  return new InputError(
    'no-mesh',
    first === undefined
      ? 'There is no mesh here.'
      : `No mesh here can be read; the first, ${first.path}: ${first.why}`,
    'Name a folder or repository with STL, 3MF, OBJ or PLY files.',
    { file: source.name },
  );
}

import {
  bodyMeshes,
  compareMeshes,
  relateShapes,
  shapeSummary,
  treeDefaults,
  type ComparedShapes,
  type FileSummary,
} from '@kinprint/compare';
import {
  bytesSource,
  InputError,
  measureMesh,
  measureTask,
  measureTasks,
  meshTask,
  readMesh,
  type MeasureOptions,
  type MeasureTask,
  type Mesh,
  type MeshFile,
  type ReadOptions,
} from '@kinprint/mesh';
import { findInterferences } from '@kinprint/solid';
import { registryDefaults } from '../defaults.ts';
import { fileSource } from '../snapshot/file-source.ts';
import { meshPrints } from '../kin/mesh-prints.ts';
import { verifyKin } from '../kin/verify-kin.ts';
import type { OpenSource } from '../snapshot/types.ts';
import { booleansHere, kernel, type Booleans } from './booleans.ts';
import { combineAgainTask, combineTask } from './combine-task.ts';
import type { Crew } from './crew.ts';
import { crewHelpers } from './crew-helpers.ts';
import { allOf, offerMeasuring } from './offer-measuring.ts';
import { isOwnMirrorImage } from './own-mirror-image.ts';
import { planesNear } from './planes-near.ts';
import { shared } from './shared.ts';
import { standings } from './standings.ts';
import type {
  FileInput,
  FileReport,
  InputErrorData,
  PairComparison,
  PairOptions,
  Task,
  TaskOutcome,
  TaskResults,
} from './task.ts';

/** What a task may use beside its own thread. */
export interface Means {
  /** Other threads to share large meshes with; the result is the same without. */
  readonly crew: Crew | null;
  readonly booleans: Booleans;
}

/** This thread does everything. */
const none: Means = { crew: null, booleans: booleansHere };

/** Does a task; whatever goes wrong is in the outcome. Closes the sources it is given. */
export async function runTask<K extends Task['kind']>(
  task: Extract<Task, { kind: K }>,
  means?: Partial<Means>,
): Promise<TaskOutcome<TaskResults[K]>>;
export async function runTask(
  task: Task,
  means: Partial<Means> = none,
): Promise<TaskOutcome<TaskResults[Task['kind']]>> {
  try {
    return { state: 'done', result: await resultOf(task, { ...none, ...means }) };
  } catch (error) {
    return errorOutcome(error);
  }
}

/** An error as data. Errors of the input say which side they concern, when a side is known. */
export function errorOutcome(error: unknown): TaskOutcome<never> {
  if (error instanceof SideError)
    return { state: 'input-error', side: error.side, error: errorData(error.inner) };
  if (error instanceof InputError) return { state: 'input-error', side: null, error: errorData(error) };
  return { state: 'fault', text: error instanceof Error ? (error.stack ?? error.message) : String(error) };
}

function errorData({ code, message, remedy, place }: InputError): InputErrorData {
  return { code, message, remedy, place };
}

class SideError extends Error {
  readonly side: 'before' | 'after';
  readonly inner: InputError;
  constructor(side: 'before' | 'after', inner: InputError) {
    super(inner.message);
    this.side = side;
    this.inner = inner;
  }
}

async function resultOf(task: Task, means: Means): Promise<TaskResults[Task['kind']]> {
  switch (task.kind) {
    case 'measure':
      return measureAll(task, means.crew);
    case 'summarize':
      return summarize(toMeasure(task.file, task.options, null));
    case 'compare':
      return compare(task, means);
    case 'relate': {
      const [before, after] = bothMeshes(task.before, task.options, task.after, task.options);
      const { verdict, alignment } = relateShapes(before, after, task.options);
      return { verdict, alignment };
    }
    case 'symmetric':
      return isOwnMirrorImage(toMeasure(task.file, task.options, null).object.mesh, task.options);
    case 'stand':
      return standings(toMeasure(task.file, task.options, null).object.mesh, task.downs, task.volumes_mm);
    case 'planes':
      return planesNear(toMeasure(task.file, task.options, null).object.mesh, task.near);
    case 'prints':
      return meshPrints(toMeasure(task.file, task.options, null).object.mesh);
    case 'kin': {
      const { query, queryOptions, candidate, candidateOptions } = task;
      return verifyKin(...bothMeshes(query, queryOptions, candidate, candidateOptions));
    }
    case 'combine':
      return combineTask(task, (input, options) => {
        const { object } = toMeasure(input, options, null);
        return object.mesh;
      });
    case 'combine-again':
      return combineAgainTask(task);
    case 'interferences': {
      const meshes = task.meshes.map(({ file, options }) => toMeasure(file, options, null).object.mesh);
      const placed = task.placed.map(({ mesh, motion }) => ({ mesh: meshes[mesh], placement: motion }));
      return findInterferences(await kernel(), placed);
    }
    case 'material': {
      const found = await booleansHere.find(task.before, task.after, task.options);
      if (found === null) throw new Error('Booleans in this thread are never given up.');
      return found;
    }
  }
}

function bothMeshes(
  before: FileInput,
  beforeOptions: ReadOptions,
  after: FileInput,
  afterOptions: ReadOptions,
): [Mesh, Mesh] {
  return [
    ofSide('before', () => toMeasure(before, beforeOptions, null).object.mesh),
    ofSide('after', () => toMeasure(after, afterOptions, null).object.mesh),
  ];
}

async function measureAll(
  { file, options }: Extract<Task, { kind: 'measure' }>,
  crew: Crew | null,
): Promise<FileReport> {
  const tasks = measureTasks(read(file, options, crew), options);
  const all = [tasks.whole, ...tasks.objects];
  const [whole, ...objects] =
    crew === null || !isLarge(crew, tasks.whole) || isHuge(tasks.whole)
      ? all.map(measureTask)
      : await allOf(all.map(task => offerMeasuring(crew, shared(task)).measurement));
  return { whole, objects };
}

async function compare(
  {
    before,
    after,
    options,
    beforeOptions = options,
    shapes: wanted = false,
  }: Extract<Task, { kind: 'compare' }>,
  { crew, booleans }: Means,
): Promise<PairComparison> {
  const from = ofSide('before', () => toMeasure(before, beforeOptions, crew));
  const to = ofSide('after', () => toMeasure(after, options, crew));
  if (crew !== null && isLarge(crew, from, to))
    return compareWith({ crew, booleans }, shared(from), shared(to), options, wanted);
  const [first, second] = [from, to].map(task => ({
    mesh: task.object.mesh,
    measurement: measureTask(task),
  }));
  const held = keeper(wanted, first.mesh, second.mesh);
  const comparison = await compareMeshes(booleans.find, first, second, options, undefined, held.keep);
  return { comparison, measurements: [first.measurement, second.measurement], shapes: held.shapes() };
}

/** Other threads measure while this one aligns; then all do what is left. */
async function compareWith(
  { crew, booleans }: { readonly crew: Crew; readonly booleans: Booleans },
  from: MeasureTask,
  to: MeasureTask,
  options: PairOptions,
  wanted: boolean,
): Promise<PairComparison> {
  const first = { mesh: from.object.mesh, ...offerMeasuring(crew, from) };
  const second = { mesh: to.object.mesh, ...offerMeasuring(crew, to) };
  const held = keeper(wanted, first.mesh, second.mesh);
  const comparison = await compareMeshes(booleans.find, first, second, options, crewHelpers(crew), held.keep);
  const measurements = [await first.measurement(), await second.measurement()] as const;
  return { comparison, measurements, shapes: held.shapes() };
}

/** Holds what a comparison looked at, where that is wanted. */
function keeper(
  wanted: boolean,
  before: Mesh,
  after: Mesh,
): { readonly keep: (shapes: ComparedShapes) => void; readonly shapes: () => PairComparison['shapes'] } {
  let kept: Partial<ComparedShapes> = {};
  return {
    keep: shapes => (kept = shapes),
    shapes: () => (wanted ? { ...kept, before, after } : null),
  };
}

function isHuge({ object }: MeasureTask): boolean {
  return object.mesh.triangles.length / 3 > registryDefaults.crewFileTriangles;
}

function isLarge(crew: Crew, ...tasks: readonly MeasureTask[]): boolean {
  const corners = tasks.reduce((sum, { object }) => sum + object.mesh.triangles.length, 0);
  return corners / 3 >= crew.leastTriangles;
}

function ofSide<T>(side: 'before' | 'after', work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof InputError ? new SideError(side, error) : error;
  }
}

/** Pairing looks at volumes and features alone. */
const pairedBy = { selfIntersections: false, walls: false } as const;

function summarize(task: MeasureTask): FileSummary {
  const { mesh } = task.object;
  const measurement = measureTask({ ...task, options: { ...task.options, ...pairedBy } });
  const whole = shapeSummary(mesh, measurement.volume_mm3, measurement.features);
  const meshes = bodyMeshes(mesh);
  if (meshes.length > treeDefaults.bodiesPaired) return { whole, bodies: [] };
  if (meshes.length === 1) return { whole, bodies: [whole] };
  return {
    whole,
    bodies: meshes.map(body => {
      const { volume_mm3, features } = measureMesh(body, pairedBy);
      return shapeSummary(body, volume_mm3, features);
    }),
  };
}

/** A file, or one body of it, read. Several objects count as one mesh, as they are placed. */
function toMeasure(input: FileInput, options: ReadOptions & MeasureOptions, crew: Crew | null): MeasureTask {
  const { whole } = measureTasks(read(input, options, crew), options);
  return input.body === null ? whole : meshTask(bodyMeshes(whole.object.mesh)[input.body], options);
}

function read(input: FileInput, options: ReadOptions, crew: Crew | null): MeshFile {
  try {
    const source = open(input);
    try {
      // Threads take as long to start as such a file takes to read.
      if (crew !== null && source.size > stlFaceBytes * crew.leastTriangles) crew.start();
      return readMesh(source, options);
    } finally {
      source.close();
    }
  } catch (error) {
    throw error instanceof InputError ? error.inFile(input.name) : error;
  }
}

/** Of binary STL: no common format has more for each face, packed ones have less. */
const stlFaceBytes = 50;

function open({ content }: FileInput): OpenSource {
  switch (content.kind) {
    case 'file':
      return fileSource(content.path, content.root);
    case 'bytes':
      return { ...bytesSource(content.bytes), close: () => undefined };
    case 'source':
      return content.source;
  }
}

import {
  bodyMeshes,
  compareMeshes,
  shapeSummary,
  treeDefaults,
  type FileSummary,
  type Measured,
} from '@kinprint/compare';
import {
  bytesSource,
  InputError,
  measureFile,
  measureMesh,
  readMesh,
  type MeshFile,
  type ReadOptions,
} from '@kinprint/mesh';
import { loadKernel, type Kernel } from '@kinprint/solid';
import { fileSource } from '../snapshot/file-source.ts';
import type { OpenSource } from '../snapshot/types.ts';
import type { FileInput, InputErrorData, PairComparison, Task, TaskOutcome, TaskResults } from './task.ts';

/** Does a task; whatever goes wrong is in the outcome. Closes the sources it is given. */
export async function runTask<K extends Task['kind']>(
  task: Extract<Task, { kind: K }>,
): Promise<TaskOutcome<TaskResults[K]>>;
export async function runTask(task: Task): Promise<TaskOutcome<TaskResults[Task['kind']]>> {
  try {
    return { state: 'done', result: await resultOf(task) };
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

/** The error that the data was made from. */
export function inputErrorOf(data: InputErrorData): InputError {
  return new InputError(data.code, data.message, data.remedy, data.place);
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

async function resultOf(task: Task): Promise<TaskResults[Task['kind']]> {
  switch (task.kind) {
    case 'measure': {
      const { whole, objects } = measureFile(read(task.file, task.options), task.options);
      return { whole, objects };
    }
    case 'summarize':
      return summarize(measured(task.file, task.options));
    case 'compare':
      return compare(task);
  }
}

async function compare({
  before,
  after,
  options,
}: Extract<Task, { kind: 'compare' }>): Promise<PairComparison> {
  const from = ofSide('before', () => measured(before, options));
  const to = ofSide('after', () => measured(after, options));
  const comparison = await compareMeshes(kernel, from, to, options);
  return { comparison, measurements: [from.measurement, to.measurement] };
}

function ofSide<T>(side: 'before' | 'after', work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof InputError ? new SideError(side, error) : error;
  }
}

function summarize({ mesh, measurement }: Measured): FileSummary {
  const whole = shapeSummary(mesh, measurement.volume_mm3, measurement.features);
  const meshes = bodyMeshes(mesh);
  if (meshes.length > treeDefaults.bodiesPaired) return { whole, bodies: [] };
  if (meshes.length === 1) return { whole, bodies: [whole] };
  return {
    whole,
    bodies: meshes.map(body => {
      const { volume_mm3, features } = measureMesh(body, { selfIntersections: false });
      return shapeSummary(body, volume_mm3, features);
    }),
  };
}

/** A file, or one body of it, read and measured. Several objects count as one mesh, as they are placed. */
function measured(input: FileInput, options: ReadOptions): Measured {
  const { mesh, whole } = measureFile(read(input, options));
  if (input.body === null) return { mesh, measurement: whole };
  const body = bodyMeshes(mesh)[input.body];
  return { mesh: body, measurement: measureMesh(body) };
}

function read(input: FileInput, options: ReadOptions): MeshFile {
  try {
    const source = open(input);
    try {
      return readMesh(source, options);
    } finally {
      source.close();
    }
  } catch (error) {
    throw error instanceof InputError ? error.inFile(input.name) : error;
  }
}

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

let loading: Promise<Kernel> | null = null;

/** The boolean kernel, loaded when first needed and kept. */
function kernel(): Promise<Kernel> {
  return (loading ??= loadKernel());
}

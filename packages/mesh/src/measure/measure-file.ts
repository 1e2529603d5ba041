import type { Measurement } from '../measurement.ts';
import { concatenate } from '../transform/concatenate.ts';
import type { Mesh, MeshFile, MeshObject } from '../types.ts';
import { measure, type MeasureOptions } from './measure.ts';

/** A file measured as a whole, all its objects as they are placed, and object by object. */
export interface FileMeasurement {
  /** All objects as one mesh; vertices are not welded across objects. */
  readonly mesh: Mesh;
  readonly whole: Measurement;
  /** One for each object where the file holds several; else empty. */
  readonly objects: readonly Measurement[];
}

/** Measures everything in a mesh file. Never throws for unsound geometry. */
export function measureFile(file: MeshFile, options: MeasureOptions = {}): FileMeasurement {
  const { whole, objects } = measureTasks(file, options);
  return {
    mesh: whole.object.mesh,
    whole: measureTask(whole),
    objects: objects.map(measureTask),
  };
}

/** One thing to measure: plain data, for any thread. */
export interface MeasureTask {
  readonly object: MeshObject;
  /** What is known of its file; its objects are not looked at. */
  readonly file: MeshFile;
  readonly options: MeasureOptions;
}

/** What there is to measure in a file: all its objects as one, and each where there are several. */
export function measureTasks(
  file: MeshFile,
  options: MeasureOptions,
): { readonly whole: MeasureTask; readonly objects: readonly MeasureTask[] } {
  const only = file.objects.length === 1 ? file.objects[0] : undefined;
  const mesh = concatenate(file.objects.map(object => object.mesh));
  const facts = { ...file, objects: [] };
  // What concerns the file is said once, of the whole.
  const silent = { ...facts, notes: [] };
  return {
    whole: { object: { name: only?.name ?? null, mesh }, file: facts, options },
    objects: only !== undefined ? [] : file.objects.map(object => ({ object, file: silent, options })),
  };
}

export function measureTask({ object, file, options }: MeasureTask): Measurement {
  return measure(object, file, options);
}

/** A mesh that comes from no file: in millimeters, as stated by whoever made it. */
export function meshTask(mesh: Mesh, options: MeasureOptions): MeasureTask {
  const file = {
    format: 'stl-binary',
    unit: 'millimeter',
    unitAssumed: false,
    objects: [],
    notes: [],
  } as const;
  return { object: { name: null, mesh }, file, options };
}

/** Measures a mesh that comes from no file. */
export function measureMesh(mesh: Mesh, options: MeasureOptions = {}): Measurement {
  return measureTask(meshTask(mesh, options));
}

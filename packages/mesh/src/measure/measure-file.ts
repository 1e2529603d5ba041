import type { Measurement } from '../measurement.ts';
import { concatenate } from '../transform/concatenate.ts';
import type { Mesh, MeshFile } from '../types.ts';
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
  const mesh = concatenate(file.objects.map(object => object.mesh));
  const only = file.objects.length === 1 ? file.objects[0] : undefined;
  const whole = measure({ name: only?.name ?? null, mesh }, file, options);
  // What concerns the file is said once, of the whole.
  const objects =
    only !== undefined ? [] : file.objects.map(object => measure(object, { ...file, notes: [] }, options));
  return { mesh, whole, objects };
}

/** Measures a mesh that comes from no file: in millimeters, as stated by whoever made it. */
export function measureMesh(mesh: Mesh, options: MeasureOptions = {}): Measurement {
  const object = { name: null, mesh };
  return measure(
    object,
    { format: 'stl-binary', unit: 'millimeter', unitAssumed: false, objects: [object], notes: [] },
    options,
  );
}

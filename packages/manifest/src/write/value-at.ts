import { ManifestError } from '../fault.ts';
import type { DocumentPath } from '../problem.ts';

/** One change: what stands at `path` becomes `value`; undefined removes it. An index one past the end appends. */
export interface Edit {
  readonly path: DocumentPath;
  readonly value: unknown;
}

/** A copy of plain data with one change made. Groups on the way are made where they are missing. */
export function withEdit(root: unknown, { path, value }: Edit): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (Array.isArray(root)) return editedList(root, step, { path: rest, value });
  if (root === undefined || root === null) {
    if (value === undefined) throw noPlace(step);
    if (typeof step === 'number') return editedList([], step, { path: rest, value });
    return { [step]: withEdit(undefined, { path: rest, value }) };
  }
  if (typeof root !== 'object' || typeof step === 'number') throw noPlace(step);
  const group: Record<string, unknown> = { ...root };
  const old = Object.hasOwn(group, step) ? group[step] : undefined;
  if (old === undefined && value === undefined) throw noPlace(step);
  if (rest.length === 0 && value === undefined) delete group[step];
  else group[step] = withEdit(old, { path: rest, value });
  return group;
}

function editedList(list: readonly unknown[], step: string | number, { path, value }: Edit): unknown[] {
  const last = value === undefined ? list.length - 1 : list.length;
  if (typeof step !== 'number' || !Number.isInteger(step) || step < 0 || step > last) throw noPlace(step);
  const copy: unknown[] = [...list];
  if (path.length === 0 && value === undefined) copy.splice(step, 1);
  else copy[step] = withEdit(list[step], { path, value });
  return copy;
}

function noPlace(step: string | number): ManifestError {
  return new ManifestError(
    'edit-no-such-place',
    `There is no '${step}' to edit.`,
    'Name a place that the document has.',
  );
}

import type { ByteSource } from '../../bytes.ts';
import { InputError } from '../../error.ts';
import type { MeshFile, MeshObject, Note, Unit } from '../../types.ts';
import { checkObjectCount } from '../limits.ts';
import { emptyObject } from '../notes.ts';
import { openZip, type ZipArchive } from '../zip/directory.ts';
import { unpack } from '../zip/unpack.ts';
import { assembleObject, findObject, type Assembly } from './assemble.ts';
import { mostItems, threeMfLimits, type Listed } from './limits.ts';
import type { ModelPart, Placement } from './model.ts';
import { readModelPart } from './model-part.ts';
import { primaryModel } from './relationships.ts';
import { identity } from './transform.ts';

/**
 * Reads a 3MF package: one object per build item, placed where the item places it, its components united in one
 * mesh, in millimeters and welded exactly.
 *
 * Objects spread over several model parts (production extension) are followed. A required extension that may
 * change the shape is refused; those for materials and triangle sets change none and are noted. Objects of type
 * `other` are left out, those for support kept, both with a note. Without build items every object that is no
 * component of another is read, as it stands, with a note. `asked` overrides the file's unit, with a note.
 *
 * The specification judges by vertex index whether a mesh is closed; here vertices at the same place are joined
 * first, and a note says where that changed anything.
 *
 * @throws {InputError} with the codes of `openZip`, `unpack`, `readXml`, `readModelPart` and `assembleObject`, and
 * `3mf-unit` when parts differ in unit.
 *
 * Source: 3MF Core Specification 1.4.0 (6 February 2025).
 */
export function readThreeMf(source: ByteSource, asked?: Unit): MeshFile {
  const archive = openZip(source);
  const store: PartStore = { archive, parts: new Map(), listed: { triangles: 0, objects: 0 } };
  const { parts } = store;
  const root = loadPart(store, primaryModel(archive), null);
  const unit = asked ?? root.unit;
  const assembly: Assembly = {
    part: (key, from) => {
      const part = loadPart(store, key, from);
      if (part.unit === root.unit) return part;
      const what = `${part.key} is in ${part.unit}, but ${root.key} in ${root.unit}`;
      throw new InputError('3mf-unit', what, 'Export the file again with one unit.');
    },
    unit,
    listed: store.listed,
    triangles: 0,
    placements: 0,
  };
  const notes: Note[] = [];
  if (asked !== undefined && asked !== root.unit) {
    const text = `The file states ${root.unit}; it was read as ${asked}, as asked.`;
    notes.push({ code: 'unit-overridden', text, about: 'unit' });
  }
  const items = root.items.length > 0 ? root.items : looseObjects(root, notes);
  const objects: MeshObject[] = [];
  checkObjectCount(items.length);
  checkItemCount(root, items);
  for (const item of items) {
    const object = readItem(assembly, root, item, notes);
    if (object !== null) objects.push(object);
  }
  if ([...parts.values()].some(part => !part.namespaced)) {
    const text =
      'A model part has no XML namespace, against the specification; its elements were taken for those of 3MF.';
    notes.push({ code: '3mf-no-namespace', text });
  }
  const appearanceOnly = new Set([...parts.values()].flatMap(part => part.appearanceOnly));
  for (const namespace of appearanceOnly) {
    notes.push({
      code: '3mf-appearance',
      text: `What ${namespace} adds was ignored; it does not touch the shape.`,
    });
  }
  const result = objects.length > 0 ? { objects, notes } : emptyObject(null, notes);
  return { format: '3mf', unit, unitAssumed: false, ...result };
}

/** An archive and those of its model parts that have been read. */
interface PartStore {
  readonly archive: ZipArchive;
  readonly parts: Map<string, ModelPart>;
  readonly listed: Listed;
}

function loadPart({ archive, parts, listed }: PartStore, key: string, from: string | null): ModelPart {
  const known = parts.get(key);
  if (known !== undefined) return known;
  const entry = archive.entries.get(key);
  if (entry === undefined) {
    throw new InputError(
      '3mf-no-part',
      `${from ?? 'the package'} refers to ${key}, which is missing`,
      'Export it again.',
    );
  }
  const reader = readModelPart(entry.name);
  unpack(archive, entry, reader.write);
  const part = reader.end();
  parts.set(key, part);
  listed.objects += part.objects.size;
  for (const object of part.objects.values()) listed.triangles += (object.mesh?.triangles.length ?? 0) / 3;
  return part;
}

/** @throws {InputError} `3mf-limit` when few objects are placed over and over. */
function checkItemCount(root: ModelPart, items: readonly Placement[]): void {
  const different = new Set(items.map(item => `${item.objectId} ${item.part ?? ''}`)).size;
  if (items.length <= mostItems(different)) return;
  const { freeItems, itemsPerObject } = threeMfLimits;
  throw new InputError(
    '3mf-limit',
    `${root.key}: the build places ${items.length} items of ${different} different objects`,
    `Up to ${freeItems} items are read, or ${itemsPerObject} for each different object: export fewer copies, or split the plate into several files.`,
  );
}

/** What to read when the build is empty: every object that nothing else refers to. */
function looseObjects(root: ModelPart, notes: Note[]): Placement[] {
  const used = new Set([...root.objects.values()].flatMap(object => object.components.map(c => c.objectId)));
  const loose = [...root.objects.keys()].filter(id => !used.has(id));
  const text =
    'The build has no items, so by the specification nothing is to be made; all objects were read as they stand.';
  notes.push({ code: '3mf-no-items', text });
  return loose.map(objectId => ({ objectId, transform: identity, part: null, line: 1 }));
}

function readItem(assembly: Assembly, root: ModelPart, item: Placement, notes: Note[]): MeshObject | null {
  const [, model] = findObject(assembly, root, item);
  const called = model.name === null ? `Object ${model.id}` : `Object ${model.id} (${model.name})`;
  if (model.type === 'other') {
    notes.push({
      code: '3mf-other',
      text: `${called} is of type "other", which is never made; it was left out.`,
    });
    return null;
  }
  if (model.type !== 'model') {
    notes.push({ code: '3mf-type', text: `${called} is of type "${model.type}", no part by itself.` });
  }
  const { object, joined, flattened } = assembleObject(assembly, root, item);
  if (joined > 0) {
    const text = `${called}: ${joined} vertices at the same place as others were joined with them; by index alone edges would be open.`;
    notes.push({ code: 'vertices-joined', text, about: 'vertices' });
  }
  if (flattened)
    notes.push({ code: '3mf-flattened', text: `${called} is placed by a transform that flattens it.` });
  if (object.mesh.triangles.length === 0)
    notes.push({ code: 'no-facets', text: `${called} has no triangles.` });
  return object;
}

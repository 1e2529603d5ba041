import type { Mesh, Unit } from '../../types.ts';
import { millimetersPer } from '../units.ts';
import {
  appearanceNamespaces,
  coreNamespace,
  objectTypes,
  partKey,
  productionNamespace,
  type ModelObject,
  type ModelPart,
  type ObjectType,
  type Placement,
} from './model.ts';
import { integerAttribute, numberAttribute, parseTransform } from './model-values.ts';
import { bulkFeed, type OpenList } from './bulk-feed.ts';
import { growingMesh, type GrowingMesh } from './growing-mesh.ts';
import { threeMfLimits } from './limits.ts';
import { identity } from './transform.ts';
import { readXml, type XmlElement, type XmlReader } from './xml.ts';

interface OpenObject {
  readonly id: number;
  readonly name: string | null;
  readonly type: ObjectType;
  mesh: GrowingMesh | null;
  readonly components: Placement[];
  /** Those of `mesh`, `vertices` and `triangles` that it has; each may stand once. */
  readonly seen: Set<string>;
}

/** A model part being read. */
export interface ModelPartReader {
  readonly write: (bytes: Uint8Array) => void;
  readonly end: () => ModelPart;
}

/** Which elements hold which (3MF Core Specification 1.4.0, 3 and 4); all others are passed over whole. */
const parents: Readonly<Record<string, string>> = {
  model: '',
  resources: 'model',
  object: 'resources',
  mesh: 'object',
  vertices: 'mesh',
  vertex: 'vertices',
  triangles: 'mesh',
  triangle: 'triangles',
  components: 'object',
  component: 'components',
  build: 'model',
  item: 'build',
};

/**
 * Reads a model part: its unit, objects with meshes or components, and build items.
 *
 * @param key of the part in the archive, for messages too.
 * @throws {InputError} from `write` and `end`, with line and column: besides the codes of `readXml`,
 * `3mf-attribute`, `3mf-number`, `3mf-index`, `3mf-transform`, `3mf-duplicate-id`, `3mf-duplicate` for a second mesh,
 * list of vertices or list of triangles in one object, `3mf-unit`, `3mf-extension`, `3mf-limit`, `3mf-no-model`.
 */
export function readModelPart(key: string): ModelPartReader {
  const objects = new Map<number, ModelObject>();
  const items: Placement[] = [];
  const appearanceOnly: string[] = [];
  // Names of the open elements that we know; deeper foreign ones do not count.
  const path: string[] = [];
  let unit: Unit | null = null;
  let namespace = coreNamespace;
  let object: OpenObject | null = null;
  let placements = 0;
  let opened: OpenList | null = null;

  const xml: XmlReader = readXml(key, { open, close });
  const feed = bulkFeed(xml, () => {
    const list = opened;
    opened = null;
    return list;
  });
  return {
    write: feed.write,
    end() {
      feed.end();
      if (unit === null) throw xml.error('3mf-no-model', 'the root element is not a 3MF model');
      return { key, unit, objects, items, appearanceOnly, namespaced: namespace !== '' };
    },
  };

  function open(element: XmlElement): void {
    const { local } = element;
    // Some programs forget the namespace altogether; then the names are taken to be those of the core.
    if (element.depth === 0) namespace = element.uri === '' ? '' : coreNamespace;
    const known = element.uri === namespace && Object.hasOwn(parents, local);
    if (!known || element.depth !== path.length || parents[local] !== (path.at(-1) ?? '')) return;
    path.push(local);
    if (local === 'vertex') object?.mesh?.addVertex(...vertexOf(element));
    else if (local === 'triangle') addTriangle(element);
    else if (local === 'vertices' || local === 'triangles') {
      once(local);
      opened = object?.mesh ? { kind: local, mesh: object.mesh } : null;
    } else if (local === 'model') openModel(element);
    else if (local === 'object') object = openObject(element);
    else if (local === 'mesh' && object !== null) {
      once(local);
      object.mesh = growingMesh();
    } else if (local === 'component') object?.components.push(placementOf(element));
    else if (local === 'item') items.push(placementOf(element));
  }

  function close(local: string, _uri: string, depth: number): void {
    if (depth !== path.length - 1) return;
    path.pop();
    if (local !== 'object' || object === null) return;
    const mesh: Mesh | null = object.mesh?.finish() ?? null;
    const { id, name, type, components } = object;
    objects.set(id, { id, name, type, mesh, components });
    object = null;
  }

  function openModel(element: XmlElement): void {
    const text = element.attribute('unit') ?? 'millimeter';
    if (!Object.hasOwn(millimetersPer, text))
      throw xml.error('3mf-unit', `"${text.slice(0, 40)}" is no unit`);
    unit = text as Unit;
    for (const prefix of (element.attribute('requiredextensions') ?? '')
      .split(/\s+/)
      .filter(word => word !== '')) {
      const required = element.namespaceOf(prefix) ?? prefix;
      if (appearanceNamespaces.includes(required)) appearanceOnly.push(required);
      else if (required !== productionNamespace && required !== coreNamespace) {
        throw xml.error(
          '3mf-extension',
          `the file requires the extension ${required.slice(0, 200)}, which is not supported`,
          'Export it without this extension.',
        );
      }
    }
  }

  function openObject(element: XmlElement): OpenObject {
    const id = integerAttribute(element, xml, 'id', 1);
    if (objects.size === threeMfLimits.listedObjects) {
      const what = `more than ${threeMfLimits.listedObjects} objects are listed`;
      throw xml.error('3mf-limit', what, 'Split it into several files.');
    }
    if (objects.has(id)) throw xml.error('3mf-duplicate-id', `object ${id} is defined twice`);
    const type = element.attribute('type') ?? 'model';
    const known = objectTypes.find(candidate => candidate === type);
    if (known === undefined) throw xml.error('3mf-attribute', `"${type.slice(0, 40)}" is no type of object`);
    const name = element.attribute('name')?.slice(0, 200) ?? null;
    return { id, name: name === '' ? null : name, type: known, mesh: null, components: [], seen: new Set() };
  }

  function once(local: string): void {
    if (object === null) return;
    if (object.seen.has(local))
      throw xml.error('3mf-duplicate', `object ${object.id} has a second <${local}>`);
    object.seen.add(local);
  }

  function vertexOf(element: XmlElement): [number, number, number] {
    return [
      numberAttribute(element, xml, 'x'),
      numberAttribute(element, xml, 'y'),
      numberAttribute(element, xml, 'z'),
    ];
  }

  function addTriangle(element: XmlElement): void {
    const mesh = object?.mesh;
    if (!mesh) return;
    const corner = (name: string) => {
      const index = integerAttribute(element, xml, name, 0);
      if (index < mesh.vertexCount()) return index;
      throw xml.error('3mf-index', `${name} is ${index}, but there are ${mesh.vertexCount()} vertices`);
    };
    mesh.addTriangle(corner('v1'), corner('v2'), corner('v3'));
  }

  function placementOf(element: XmlElement): Placement {
    if (++placements > threeMfLimits.listedPlacements) {
      const what = `more than ${threeMfLimits.listedPlacements} items and components are listed`;
      throw xml.error('3mf-limit', what, 'Split it into several files.');
    }
    const transform = element.attribute('transform');
    const path = element.attribute('path', productionNamespace);
    return {
      objectId: integerAttribute(element, xml, 'objectid', 1),
      transform: transform === undefined ? identity : parseTransform(transform, xml),
      part: path === undefined ? null : partKey(path),
      line: xml.line(),
    };
  }
}

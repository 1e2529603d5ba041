import { describe, expect, it } from 'vitest';
import { bytesSource } from '../../bytes.ts';
import { InputError } from '../../error.ts';
import { modelOf, packageOf, tetrahedronXml } from '../../testing/three-mf-package.ts';
import type { MeshFile } from '../../types.ts';
import { readMesh } from '../read-mesh.ts';
import { mostItems, mostPlacements, mostTriangles, threeMfLimits } from './limits.ts';
import { readXml } from './xml.ts';

const readModel = (resources: string, build: string): MeshFile =>
  readMesh(bytesSource(packageOf(modelOf(resources, build))));
const object = (id: number, content: string) => `<object id="${id}">${content}</object>`;
const components = (...children: string[]) => `<components>${children.join('')}</components>`;
const component = (id: number, x = 0) =>
  `<component objectid="${id}" transform="1 0 0 0 1 0 0 0 1 ${x} 0 0"/>`;
const item = (id: number, x = 0) => `<item objectid="${id}" transform="1 0 0 0 1 0 0 0 1 ${x} 0 0"/>`;
const many = (count: number, one: (i: number) => string) => Array.from({ length: count }, (_, i) => one(i));

/** A strip of `count` triangles. */
function strip(count: number): string {
  const vertices = many(count + 2, i => `<vertex x="${i}" y="${i % 7}" z="${(i * i) % 11}"/>`);
  const triangles = many(count, i => `<triangle v1="${i}" v2="${i + 1}" v3="${i + 2}"/>`);
  return `<mesh><vertices>${vertices.join('')}</vertices><triangles>${triangles.join('')}</triangles></mesh>`;
}

function errorOf(action: () => unknown): InputError {
  try {
    action();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
}

describe('limits of a package', () => {
  it('grow with what is listed, between what is free and what can be held', () => {
    const triangles = [1, 20_000, 1e9].map(count => mostTriangles({ triangles: count, objects: 1 }));
    expect(triangles).toEqual([1_000_000, 1_280_000, 30_000_000]);
    const placements = [1, 100, 1e6].map(count => mostPlacements({ triangles: 1, objects: count }));
    expect(placements).toEqual([4096, 6400, 100_000]);
    expect([1, 500].map(mostItems)).toEqual([1000, 2000]);
  });

  it('a chain of components ends at the depth allowed, not on the stack', () => {
    const chain = (length: number) =>
      object(1, tetrahedronXml()) +
      many(length - 1, i => object(i + 2, components(component(i + 1, 1)))).join('');
    const deepest = threeMfLimits.componentDepth;
    const { mesh } = readModel(chain(deepest), item(deepest)).objects[0];
    expect(Math.max(...mesh.positions)).toBe(deepest);
    for (const length of [deepest + 1, 5000, 50_000]) {
      const error = errorOf(() => readModel(chain(length), item(length)));
      expect([error.code, error.message]).toEqual(['3mf-limit', expect.stringContaining('64 deep')]);
    }
  });

  it('a few triangles do not swell to millions, and the error says how many may', () => {
    const levels = many(4, l => object(l + 2, components(...many(10, k => component(l + 1, k * 1000)))));
    const error = errorOf(() => readModel(object(1, strip(300)) + levels.join(''), item(5)));
    expect(error.code).toBe('3mf-limit');
    const larger = errorOf(() => readModel(object(1, strip(3000)) + levels.slice(0, 3).join(''), item(4)));
    expect(larger.code).toBe('3mf-limit');
    expect(larger.message).toContain('3000 triangles listed to more than 1000000');
    expect(larger.remedy).toContain('64 for each one listed');
  });

  it('counts triangles over all items together', () => {
    const plate = (copies: number) => readModel(object(1, strip(2000)), many(copies, () => item(1)).join(''));
    expect(plate(500).objects.length).toBe(500);
    expect(errorOf(() => plate(501)).code).toBe('3mf-limit');
  });

  it('reads a plate of a thousand copies, not one of thousands of the same', () => {
    const plate = (copies: number) =>
      readModel(object(1, tetrahedronXml()), many(copies, i => item(1, 2 * i)).join(''));
    expect(plate(1000).objects.length).toBe(1000);
    const error = errorOf(() => plate(1001));
    expect([error.code, error.message]).toEqual(['3mf-limit', expect.stringContaining('1001 items of 1')]);
    expect(error.remedy).toContain('1000 items');
    const mixed = many(400, i => object(i + 1, tetrahedronXml())).join('');
    expect(readModel(mixed, many(1600, i => item((i % 400) + 1)).join('')).objects.length).toBe(1600);
  });

  it.each([
    ['vertices', tetrahedronXml().replace('<vertices>', '<vertices></vertices><vertices>')],
    ['triangles', tetrahedronXml().replace('<triangles>', '<triangles/><triangles>')],
    ['mesh', tetrahedronXml() + tetrahedronXml()],
  ])('refuses a second <%s> in one object', (name, content) => {
    const error = errorOf(() => readModel(object(1, content), item(1)));
    expect([error.code, error.message]).toEqual(['3mf-duplicate', expect.stringContaining(`<${name}>`)]);
  });

  it('counts the lines of skipped bytes within their range alone', () => {
    const nothing = () => undefined;
    const xml = readXml('part', { open: nothing, close: nothing });
    const bytes = new Uint8Array(4_000_000).fill(0x20);
    bytes.set([0x0a, 0x20, 0x0a, 0x0a]);
    xml.skipped(bytes, 0, 3);
    expect(xml.line()).toBe(3);
    const start = performance.now();
    for (let i = 10; i < 100_000; i++) xml.skipped(bytes, i, i + 1);
    // A search to the end of the bytes each time would pass over 400 GB.
    expect(performance.now() - start).toBeLessThan(1000);
    expect(xml.line()).toBe(3);
  });
});

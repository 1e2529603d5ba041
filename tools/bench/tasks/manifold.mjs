// manifold-3d from npm, used in the plain way: triangles as they stand in the file, then its own merge.
import { readFileSync } from 'node:fs';

export async function prepare() {
  const { default: load } = await import('manifold-3d/manifold');
  const kernel = await load();
  kernel.setup();
  return kernel;
}

function load(kernel, path) {
  const bytes = readFileSync(path);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const facets = view.getUint32(80, true);
  const vertProperties = new Float32Array(9 * facets);
  const triVerts = new Uint32Array(3 * facets);
  for (let facet = 0; facet < facets; facet++) {
    const at = 84 + 50 * facet + 12;
    for (let k = 0; k < 9; k++) vertProperties[9 * facet + k] = view.getFloat32(at + 4 * k, true);
    for (let k = 0; k < 3; k++) triVerts[3 * facet + k] = 3 * facet + k;
  }
  const mesh = new kernel.Mesh({ numProp: 3, vertProperties, triVerts });
  mesh.merge();
  return kernel.Manifold.ofMesh(mesh);
}

export const works = {
  measure([file], kernel) {
    const solid = load(kernel, file);
    const shells = solid.decompose();
    return {
      triangles: solid.numTri(),
      vertices: solid.numVert(),
      area: solid.surfaceArea(),
      volume: solid.volume(),
      box: solid.boundingBox(),
      genus: solid.genus(),
      edges: solid.numEdge(),
      shells: shells.length,
    };
  },
  compare([before, after], kernel) {
    const a = load(kernel, before);
    const b = load(kernel, after);
    return { added: b.subtract(a).volume(), removed: a.subtract(b).volume() };
  },
};

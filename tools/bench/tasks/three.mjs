// three from npm: its own loader and merge, and the figures that it lacks added in the obvious way.
import { readFileSync } from 'node:fs';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { mergeVertices } from 'three/addons/utils/BufferGeometryUtils.js';

export function load(path) {
  const bytes = readFileSync(path);
  const soup = new STLLoader().parse(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength),
  );
  soup.deleteAttribute('normal');
  return mergeVertices(soup);
}

export const works = {
  measure([file]) {
    const geometry = load(file);
    geometry.computeBoundingBox();
    const position = geometry.attributes.position.array;
    const index = geometry.index.array;
    const count = position.length / 3;
    let area = 0;
    let volume = 0;
    const center = [0, 0, 0];
    const edges = new Map();
    const parent = Uint32Array.from({ length: count }, (_, v) => v);
    const find = v => {
      while (parent[v] !== v) v = parent[v] = parent[parent[v]];
      return v;
    };
    for (let i = 0; i < index.length; i += 3) {
      const a = 3 * index[i];
      const b = 3 * index[i + 1];
      const c = 3 * index[i + 2];
      const [ax, ay, az] = [position[a], position[a + 1], position[a + 2]];
      const [bx, by, bz] = [position[b], position[b + 1], position[b + 2]];
      const [cx, cy, cz] = [position[c], position[c + 1], position[c + 2]];
      const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
      const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
      const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
      area += Math.hypot(nx, ny, nz) / 2;
      const part = (ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6;
      volume += part;
      center[0] += (part * (ax + bx + cx)) / 4;
      center[1] += (part * (ay + by + cy)) / 4;
      center[2] += (part * (az + bz + cz)) / 4;
      for (let k = 0; k < 3; k++) {
        const from = index[i + k];
        const to = index[i + ((k + 1) % 3)];
        const key = Math.min(from, to) * count + Math.max(from, to);
        edges.set(key, (edges.get(key) ?? 0) + 1);
        parent[find(from)] = find(to);
      }
    }
    let boundary = 0;
    let nonManifold = 0;
    for (const faces of edges.values()) {
      if (faces === 1) boundary++;
      else if (faces > 2) nonManifold++;
    }
    let shells = 0;
    for (let v = 0; v < count; v++) if (find(v) === v) shells++;
    return {
      triangles: index.length / 3,
      vertices: count,
      area,
      volume,
      box: geometry.boundingBox,
      center: center.map(k => k / volume),
      edges: edges.size,
      boundary,
      nonManifold,
      shells,
    };
  },
};

// three-mesh-bvh from npm: the distance of every vertex of each mesh from the other mesh.
import { Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { load } from './three.mjs';

export const works = {
  deviation([before, after]) {
    const a = load(before);
    const b = load(after);
    const forth = sampled(a, new MeshBVH(b));
    const back = sampled(b, new MeshBVH(a));
    return { max: Math.max(forth.max, back.max), mean: (forth.sum + back.sum) / (forth.count + back.count) };
  },
};

function sampled(from, tree) {
  const position = from.attributes.position;
  const point = new Vector3();
  const hit = {};
  let max = 0;
  let sum = 0;
  for (let v = 0; v < position.count; v++) {
    point.fromBufferAttribute(position, v);
    const { distance } = tree.closestPointToPoint(point, hit);
    if (distance > max) max = distance;
    sum += distance;
  }
  return { max, sum, count: position.count };
}

import type { Mesh } from '../types.ts';

/**
 * `count` unconnected triangles of mixed sizes within 10 of `offset`: large and tiny ones, needles, faces without
 * area, corners on a grid and off it. No solid; for what must hold for any faces at all.
 */
export function soup(random: () => number, count: number, offset = 0): Mesh {
  const positions = new Float64Array(9 * count);
  const coordinate = () => (random() < 0.3 ? Math.floor(9 * random()) - 4 : 20 * random() - 10);
  for (let face = 0; face < count; face++) {
    const spread = [1e-7, 0.02, 0.3, 1][Math.floor(4 * random())];
    const first = [coordinate(), coordinate(), coordinate()];
    const needle = random() < 0.2 ? random() : null;
    for (let k = 0; k < 3; k++) {
      const b = first[k] + spread * (coordinate() - first[k]);
      const c =
        needle === null ? first[k] + spread * (coordinate() - first[k]) : first[k] + needle * (b - first[k]);
      positions[9 * face + k] = first[k] + offset;
      positions[9 * face + 3 + k] = b + offset;
      positions[9 * face + 6 + k] = c + offset;
    }
  }
  return { positions, triangles: Uint32Array.from({ length: 3 * count }, (_, i) => i) };
}

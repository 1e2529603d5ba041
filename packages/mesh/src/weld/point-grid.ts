/** Points sorted into cells, to find the nearest within one cell's width. */
export interface PointGrid {
  /** Adds a vertex to be found from now on. */
  readonly add: (vertex: number) => void;
  /** The nearest added vertex within the reach that `allowed` lets pass; the earlier one on a tie; −1 if none. */
  readonly nearest: (
    vertex: number,
    allowed: (candidate: number) => boolean,
  ) => { readonly index: number; readonly distanceSq: number };
}

/**
 * An empty grid over the points in `positions` (3 to a vertex). Cells are as wide as `reach`, hashed into chains,
 * so that no span of coordinates is too wide.
 *
 * @param capacity how many vertices can be added at most.
 */
export function pointGrid(
  positions: Float32Array | Float64Array,
  reach: number,
  capacity: number,
): PointGrid {
  let slots = 16;
  while (slots < capacity) slots *= 2;
  const heads = new Int32Array(slots).fill(-1);
  const nextOf = new Int32Array(capacity);
  const vertexOf = new Int32Array(capacity);
  let count = 0;
  const cell = (value: number) => Math.floor(value / reach);

  return {
    add(vertex) {
      const at = 3 * vertex;
      const slot = slotOf(cell(positions[at]), cell(positions[at + 1]), cell(positions[at + 2]));
      vertexOf[count] = vertex;
      nextOf[count] = heads[slot];
      heads[slot] = count++;
    },
    nearest(vertex, allowed) {
      const at = 3 * vertex;
      const x = positions[at];
      const y = positions[at + 1];
      const z = positions[at + 2];
      let index = -1;
      let distanceSq = reach * reach;
      for (let dx = -1; dx <= 1; dx++) {
        for (let dy = -1; dy <= 1; dy++) {
          for (let dz = -1; dz <= 1; dz++) {
            const slot = slotOf(cell(x) + dx, cell(y) + dy, cell(z) + dz);
            for (let entry = heads[slot]; entry >= 0; entry = nextOf[entry]) {
              const candidate = vertexOf[entry];
              const squared = distance2(positions, 3 * candidate, x, y, z);
              if (squared > distanceSq || (squared === distanceSq && index >= 0 && candidate >= index))
                continue;
              if (candidate === vertex || !allowed(candidate)) continue;
              index = candidate;
              distanceSq = squared;
            }
          }
        }
      }
      return { index, distanceSq };
    },
  };

  /** Neighboring cells may share a slot; then its chain is walked twice, to no harm. */
  function slotOf(i: number, j: number, k: number): number {
    const hash = Math.imul(i | 0, 0x9e3779b1) ^ Math.imul(j | 0, 0x85ebca6b) ^ Math.imul(k | 0, 0xc2b2ae35);
    return (hash ^ (hash >>> 15)) & (slots - 1);
  }
}

function distance2(
  positions: Float32Array | Float64Array,
  at: number,
  x: number,
  y: number,
  z: number,
): number {
  const dx = positions[at] - x;
  const dy = positions[at + 1] - y;
  const dz = positions[at + 2] - z;
  return dx * dx + dy * dy + dz * dz;
}

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Mesh } from '@kinprint/mesh';
import { writeStlBinary } from '@kinprint/mesh';

/** A box from the origin to (a, b, c), 12 faces, outward. */
export function box(
  a: number,
  b: number,
  c: number,
  at: readonly [number, number, number] = [0, 0, 0],
): Mesh {
  const positions = new Float64Array(24);
  for (let k = 0; k < 8; k += 1)
    positions.set([at[0] + (k & 1 ? a : 0), at[1] + (k & 2 ? b : 0), at[2] + (k & 4 ? c : 0)], 3 * k);
  const triangles = new Uint32Array([
    0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7,
    5,
  ]);
  return { positions, triangles };
}

/** An angle: an L of legs `a` (along x) and `b` (along y), `t` thick, extruded to height `h`. */
export function angle(a: number, b: number, t: number, h: number): Mesh {
  const outline = [
    [0, 0],
    [a, 0],
    [a, t],
    [t, t],
    [t, b],
    [0, b],
  ];
  const positions = Float64Array.from([0, h].flatMap(z => outline.flatMap(([x, y]) => [x ?? 0, y ?? 0, z])));
  const cap = [0, 1, 2, 0, 2, 3, 0, 3, 4, 0, 4, 5];
  const bottom = [0, 2, 1, 0, 3, 2, 0, 4, 3, 0, 5, 4];
  const walls = outline.flatMap((_, k) => {
    const next = (k + 1) % 6;
    return [k, next, next + 6, k, next + 6, k + 6];
  });
  return { positions, triangles: Uint32Array.from([...bottom, ...cap.map(k => k + 6), ...walls]) };
}

/** The mesh without its last `n` faces: open. */
export function without(mesh: Mesh, n: number): Mesh {
  return { ...mesh, triangles: mesh.triangles.slice(0, mesh.triangles.length - 3 * n) };
}

/** A folder that a test may fill; `remove` takes it away. */
export function temporaryFolder(): {
  path: string;
  write(name: string, content: Mesh | Uint8Array | string): string;
  remove(): void;
} {
  const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-'));
  return {
    path: folder,
    write: (name, content) => {
      const file = path.join(folder, name);
      writeFileSync(
        file,
        typeof content === 'string' || content instanceof Uint8Array ? content : writeStlBinary(content),
      );
      return file;
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

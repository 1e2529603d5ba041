// Makes the meshes that the benchmark reads, as binary STL in .cache/bench, once.
import { existsSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { root } from '../setup.mjs';

export const cache = path.join(root, '.cache/bench');

/** Name → wanted triangles. */
export const sizes = { '20k': 20_000, '200k': 200_000, '2m': 2_000_000 };

/** What is made of each size; all but the scan as others of `part`. */
export const kinds = ['part', 'edited', 'drilled', 'moved', 'finer', 'scan'];

export function inputPath(kind, size) {
  return path.join(cache, `${kind}-${size}.stl`);
}

/** Makes whatever is missing for the sizes given. */
export async function makeInputs(wanted, say) {
  mkdirSync(cache, { recursive: true });
  const missing = wanted.filter(size => kinds.some(kind => !existsSync(inputPath(kind, size))));
  if (missing.length === 0) return;
  const { default: load } = await import('manifold-3d/manifold');
  const kernel = await load();
  kernel.setup();
  for (const size of missing) {
    say(`making the ${size} inputs (kept in .cache/bench)`);
    // A ball of n segments has n²/2 facets; the flat base takes an eighth of them away.
    const segments = 4 * Math.round(Math.sqrt((2 * sizes[size]) / 0.87) / 4);
    const part = bored(kernel, bumpedBall(kernel, segments, identity), 6, false);
    const edited = bored(kernel, bumpedBall(kernel, segments, identity), 6.4, true);
    save(part, inputPath('part', size));
    save(edited, inputPath('edited', size));
    save(moved(edited), inputPath('moved', size));
    save(drilled(kernel, part), inputPath('drilled', size));
    save(
      bored(kernel, bumpedBall(kernel, 4 * Math.round(segments / 3.9), tilt), 6, false),
      inputPath('finer', size),
    );
    save(scan(kernel, 4 * Math.round(Math.sqrt(2 * sizes[size]) / 4)), inputPath('scan', size));
  }
}

const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1];
/** A turn by no round angle, so that the two triangulations share nothing. */
const tilt = rotation([1, 2, 3], 0.7);

/** A ball of radius 30 with smooth bumps, whose triangulation is turned by `turn` while its bumps stay. */
function bumpedBall(kernel, segments, turn) {
  const ball = kernel.Manifold.sphere(1, segments);
  const bumped = ball.warp(v => {
    const [x, y, z] = times(turn, v);
    const r = 30 * (1 + 0.02 * Math.sin(7 * x) * Math.sin(6 * y + 1) * Math.sin(5 * z));
    v[0] = r * x;
    v[1] = r * y;
    v[2] = r * z;
  });
  ball.delete();
  return bumped;
}

/** With a flat base and a tilted bore through it: genus 1. `boss` adds a short stud beside the bore. */
function bored(kernel, ball, diameter, boss) {
  const { Manifold } = kernel;
  const base = Manifold.cube([80, 80, 20], true);
  const low = base.translate(0, 0, -32);
  const bar = Manifold.cylinder(100, diameter / 2, diameter / 2, 96, true);
  const bore = bar.rotate(20, 12, 0);
  const studBar = Manifold.cylinder(8, 2.5, 2.5, 64);
  const stud = studBar.translate(12, -9, 23);
  const whole = boss ? ball.add(stud) : ball;
  const cut = whole.subtract(low);
  const result = cut.subtract(bore);
  const { vertProperties, triVerts } = result.getMesh();
  const mesh = { positions: Float32Array.from(vertProperties), triangles: Uint32Array.from(triVerts) };
  for (const solid of new Set([ball, base, low, bar, bore, studBar, stud, whole, cut, result]))
    solid.delete();
  return mesh;
}

/** Another edit, nowhere near the first: a bore across the part, and a pocket in its side. */
function drilled(kernel, { positions, triangles }) {
  const { Manifold, Mesh } = kernel;
  const part = new Manifold(new Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles }));
  const bar = Manifold.cylinder(100, 2, 2, 64, true);
  const bore = bar.rotate(0, 90, 0).translate(0, -18, -4);
  const pocket = Manifold.cube([6, 6, 8], true).translate(0, 29, 4);
  const result = part.subtract(bore).subtract(pocket);
  const { vertProperties, triVerts } = result.getMesh();
  const mesh = { positions: Float32Array.from(vertProperties), triangles: Uint32Array.from(triVerts) };
  for (const solid of [part, bar, bore, pocket, result]) solid.delete();
  return mesh;
}

/** A closed surface as a smoothed scan gives it: low waves, and noise of some hundredths of a millimeter. */
function scan(kernel, segments) {
  const ball = kernel.Manifold.sphere(1, segments);
  const { vertProperties, triVerts } = ball.getMesh();
  ball.delete();
  const positions = Float32Array.from(vertProperties);
  let state = 20240203;
  const noise = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296 - 0.5;
  };
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = positions.subarray(i, i + 3);
    const waves =
      0.12 * Math.sin(3 * x + 1) * Math.cos(2 * y) +
      0.05 * Math.sin(9 * z + 4 * x) +
      0.02 * Math.cos(17 * y - 5 * z);
    const r = 40 * (1 + waves) + 0.04 * noise();
    positions[i] = r * x;
    positions[i + 1] = 0.7 * r * y;
    positions[i + 2] = 0.5 * r * z;
  }
  return { positions, triangles: Uint32Array.from(triVerts) };
}

function moved(mesh) {
  const turn = rotation([-1, 0.4, 0.8], 1.9);
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = times(turn, mesh.positions.subarray(i, i + 3));
    positions.set([x + 120, y - 35, z + 64], i);
  }
  return { positions, triangles: mesh.triangles };
}

function times(m, [x, y, z]) {
  return [m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z];
}

/** Rodrigues' formula. */
function rotation(axis, angle) {
  const length = Math.hypot(...axis);
  const [x, y, z] = axis.map(k => k / length);
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const t = 1 - c;
  return [
    [t * x * x + c, t * x * y - s * z, t * x * z + s * y],
    [t * x * y + s * z, t * y * y + c, t * y * z - s * x],
    [t * x * z - s * y, t * y * z + s * x, t * z * z + c],
  ].flat();
}

/** Written beside and renamed, so that an interrupted run leaves no half file. */
function save({ positions, triangles }, file) {
  const facets = triangles.length / 3;
  const bytes = new Uint8Array(84 + 50 * facets);
  bytes.set(new TextEncoder().encode('benchmark input'));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, facets, true);
  for (let i = 0; i < triangles.length; i++) {
    const at = 84 + 50 * Math.floor(i / 3) + 12 + 12 * (i % 3);
    for (let k = 0; k < 3; k++) view.setFloat32(at + 4 * k, positions[3 * triangles[i] + k], true);
  }
  writeFileSync(`${file}.part`, bytes);
  renameSync(`${file}.part`, file);
}

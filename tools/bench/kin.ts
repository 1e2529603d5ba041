// How well and how fast kin are found: on a generated set of parts, and in an index of 100 000 entries.
//
//   npx tsx -C source tools/bench/kin.ts [QUERIES]
//
// Nothing here is random: the same figures on every run but for the times.
import { kinIndex, nearestPrints, verifyKin, kinDefaults } from '@kinprint/registry';
import { fingerprint, fingerprintValues, type Fingerprint, type Mesh } from '@kinprint/mesh';
import { loadKernel } from '@kinprint/solid';
import { after, motion, scaling } from '../corpus/transform.ts';
import * as shapes from '../demo/shapes/index.ts';

const kernel = await loadKernel();
const segments = 24;
const steps = Array.from({ length: 10 }, (_, k) => k / 9);
type Make = (change: boolean) => shapes.Solid;
/** Sixty parts of six kinds; each with a locally reworked version. */
const bases: readonly { readonly kind: string; readonly make: Make }[] = steps.flatMap(
  t =>
    [
      {
        kind: 'shell',
        make: c =>
          shapes.cuffShell({
            segments,
            palmBreadth: 44 + 40 * t,
            bandWidth: 20 + 10 * (1 - t),
            rib: c,
            hingeBore: c ? 3 : 3.2,
          }),
      },
      {
        kind: 'leaf',
        make: c => shapes.hingeLeaf({ segments, length: 24 + 22 * t, hingeBore: c ? 2.8 : 3.2 }),
      },
      {
        kind: 'clip',
        make: c => pierced(shapes.snapClip({ segments, handle: 7 + 9 * t, width: 9 + 8 * (1 - t) }), c),
      },
      {
        kind: 'buckle',
        make: c => drilled(shapes.strapBuckle({ segments, strap: 12 + 25 * t, opening: 4 + 4 * t }), c),
      },
      { kind: 'sleeve', make: c => drilled(shapes.utensilSleeve({ segments, length: 26 + 30 * t }), c) },
      {
        kind: 'pad',
        make: c => drilled(shapes.gripPad({ segments, length: 28 + 24 * t, width: 16 + 8 * (1 - t) }), c),
      },
    ] satisfies { kind: string; make: Make }[],
);

/** A hole of 2 mm through the middle of the part. */
function drilled(part: shapes.Solid, change: boolean): shapes.Solid {
  return change ? shapes.difference(part, shapes.moved(shapes.cylinder(2, 200, segments), 1, 4, -100)) : part;
}

/** The same from the side: the middle of a clip is empty. */
function pierced(part: shapes.Solid, change: boolean): shapes.Solid {
  const drill = shapes.turnedX(shapes.moved(shapes.cylinder(2, 200, segments), 0, 0, -100), 90);
  return change ? shapes.difference(part, drill) : part;
}

const turned = (k: number, factor: number) =>
  after(motion([1, k % 5, -2], 40 + 17 * k, [3 * k, -20, k]), scaling(factor));
const parts: { kind: string; base: number; copy: string; mesh: Mesh; print: Fingerprint }[] = [];
/** Milliseconds of this process's computing: they hardly depend on what else the machine does. */
const spent = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
let seconds = performance.now();
bases.forEach(({ kind, make }, base) => {
  const copies: Record<string, shapes.Solid> = {
    original: make(false),
    'moved, refined': shapes.affine(shapes.refined(make(false), 5), turned(base, 1)),
    'mirrored, rescaled, refined': shapes.affine(
      shapes.refined(shapes.mirroredX(make(false)), 4),
      turned(base + 1, 0.8 + 0.01 * base),
    ),
    'reworked, moved': shapes.affine(make(true), turned(base + 2, 1)),
    'reworked, mirrored, rescaled': shapes.affine(shapes.mirroredX(make(true)), turned(base + 3, 1.12)),
  };
  for (const [copy, solid] of Object.entries(copies)) {
    const mesh = shapes.buildMesh(kernel, solid);
    const print = fingerprint(mesh);
    if (print !== null) parts.push({ kind, base, copy, mesh, print });
  }
});
console.log(`${parts.length} parts made in ${((performance.now() - seconds) / 1000).toFixed(1)} s`);

const index = kinIndex(parts.map(part => part.print));
const queries = parts.filter(part => part.copy === 'original');
const near = (part: Fingerprint) =>
  nearestPrints(index, part, kinDefaults.candidates + 1, kinDefaults.farthest);
let offered = 0;
for (const query of queries) {
  const found = near(query.print);
  offered += found.filter(
    ({ entry }) => parts[entry].base === query.base && parts[entry].copy !== 'original',
  ).length;
}
console.log(`Fingerprint alone: ${offered} of ${4 * queries.length} copies among the candidates`);

const wanted = Number(process.argv[2] ?? 12);
const every = Math.max(1, Math.floor(queries.length / wanted));
const tally = { planted: 0, found: 0, sizes: 0, otherKind: 0, compared: 0, wrongWord: 0 };
seconds = performance.now();
for (const query of queries.filter((_, k) => k % every === Math.floor(k / every) % every)) {
  tally.planted += 4;
  for (const { entry } of near(query.print)) {
    const other = parts[entry];
    if (other === query) continue;
    tally.compared++;
    const kinship = verifyKin(query.mesh, other.mesh);
    const own = other.base === query.base;
    if (kinship === null) {
      if (own) console.log(`  missed: ${query.kind} ${query.base}, ${other.copy}`);
      continue;
    }
    if (own && (kinship.relation === 'reworked') !== other.copy.startsWith('reworked'))
      console.log(`  called ${kinship.relation}: ${query.kind} ${query.base}, ${other.copy}`);
    if (own) tally.found++;
    else if (other.kind === query.kind) tally.sizes++;
    else tally.otherKind++;
    if (own && (kinship.relation === 'reworked') !== other.copy.startsWith('reworked')) tally.wrongWord++;
  }
}
seconds = (performance.now() - seconds) / 1000;
console.log(
  `Verified: ${tally.found} of ${tally.planted} planted copies found, ${tally.wrongWord} with the wrong word; ` +
    `${tally.sizes} of the same kind in another size, ${tally.otherKind} of another kind; ` +
    `${tally.compared} comparisons, ${((1000 * seconds) / tally.compared).toFixed(0)} ms each`,
);

const many = Array.from({ length: 100_000 }, (_, k): Fingerprint => {
  const { print } = parts[k % parts.length];
  const values = print.values.map((value, j) => value + 0.3 * Math.sin(k * 1.7 + j * 3.1));
  return { ...print, values };
});
const large = kinIndex(many);
const times = Array.from({ length: 15 }, (_, k) => {
  const start = spent();
  nearestPrints(large, many[k * 6000], kinDefaults.candidates, kinDefaults.farthest);
  return spent() - start;
}).sort((a, b) => a - b);
console.log(
  `Index of 100 000 (${((4 * fingerprintValues * 100_000) / 1e6).toFixed(0)} MB): ${times[7].toFixed(1)} ms a query (median)`,
);
for (const edge of [0.8, 0.4]) {
  const mesh = shapes.buildMesh(kernel, shapes.refined(shapes.cuffShell(), edge));
  const runs = Array.from({ length: 9 }, () => {
    const start = spent();
    fingerprint(mesh);
    return spent() - start;
  }).sort((a, b) => a - b);
  console.log(
    `Fingerprint of ${mesh.triangles.length / 3} triangles: ${runs[4].toFixed(0)} ms (median), ${runs[0].toFixed(0)} ms (least)`,
  );
}

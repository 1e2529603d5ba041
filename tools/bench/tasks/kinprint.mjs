// Our own packages as built, not as sources.
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { measure, measureCore, readMesh, transformMesh } from '@kinprint/mesh';
import { align, alone, both, deviationAcross } from '@kinprint/compare';
import {
  builtWorker,
  combineEntries,
  combineFiles,
  comparePair,
  crewHelpers,
  openCrew,
  readAlike,
  snapshotFromPath,
} from '@kinprint/registry';

/** Threads that share the work, as the program opens them. Starting them is loading modules once more. */
const crew = openCrew({ worker: builtWorker(), threads: availableParallelism() - 1 });
const helpers = crew === null ? alone : crewHelpers(crew);

export async function prepare(work) {
  // A whole comparison opens its own.
  if (work !== 'deviation') return;
  crew?.start();
  // They load their modules, as every engine does before the clock starts.
  await new Promise(resolve => setTimeout(resolve, 500));
}

export const finish = () => crew?.close();

function read(path) {
  const handle = openSync(path, 'r');
  try {
    return readMesh({
      size: fstatSync(handle).size,
      read: (offset, into) => readSync(handle, into, 0, into.length, offset),
    });
  } finally {
    closeSync(handle);
  }
}

const meshOf = path => read(path).objects[0].mesh;

function measured(path) {
  const file = read(path);
  return { mesh: file.objects[0].mesh, measurement: measure(file.objects[0], file) };
}

export const works = {
  measure([file]) {
    const core = measureCore(meshOf(file));
    return {
      triangles: core.triangles,
      vertices: core.vertices,
      area: core.area_mm2,
      volume: core.volume_mm3,
      genus: core.genus,
      shells: core.shells,
    };
  },
  full([file]) {
    const all = measured(file).measurement;
    return {
      volume: all.volume_mm3,
      wall: all.thinnest_wall_mm,
      features: all.features.length,
      crossings: all.soundness.self_intersections,
    };
  },
  async deviation([before, after]) {
    const [from, to] = [meshOf(before), meshOf(after)];
    const [treeBefore, treeAfter] = await both(helpers.tree, [from, to]);
    const trees = { treeBefore, treeAfter };
    const { deviation: result } = await deviationAcross(from, to, { tolerance_mm: 0.001, ...trees }, helpers);
    return { max: result.max_mm, error: result.max_error_mm, mean: result.mean_mm, rms: result.rms_mm };
  },
  align([before, after]) {
    const a = meshOf(before);
    const { alignment } = align(a, meshOf(after), { tolerance_mm: 0.001 });
    return {
      kind: alignment.kind,
      matched: alignment.matched,
      carried: transformMesh(a, alignment.matrix).triangles.length / 3,
    };
  },
  compare(files) {
    return compared(files, {});
  },
  /** As the program does it, in a thread of its own, up to the proven bytes. */
  async combine([base, a, b]) {
    const paths = { base, a, b };
    const work = { options: {}, format: 'stl', read: readAlike({}) };
    const { combination } = await combineFiles(combineEntries(paths), paths, work);
    const { result, proof } = combination;
    return { proven: proof?.holds, volume: result?.volume_mm3, triangles: result?.triangles };
  },
  /** For another triangulation of the same shape: chords differ by less than this. */
  compareWithin(files) {
    return compared(files, { tolerance_mm: 0.02 });
  },
};

/** As the program does it, with its threads, which start on the clock. */
async function compared(files, options) {
  const [before, after] = files.map(file => snapshotFromPath(file).entries[0]);
  const { comparison: result } = await comparePair(before, after, options);
  return {
    verdict: result.verdict,
    added: result.volume.added_mm3,
    removed: result.volume.removed_mm3,
    max: result.deviation?.max_mm,
    regions: result.regions.length,
  };
}

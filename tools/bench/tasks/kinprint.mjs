// Our own packages as built, not as sources.
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { measure, measureCore, readMesh, transformMesh } from '@kinprint/mesh';
import { align, compareMeshes, deviation } from '@kinprint/compare';
import { loadKernel } from '@kinprint/solid';

export async function prepare() {
  // manifold-3d as a peer has its kernel loaded before the clock starts; so have we.
  return await loadKernel();
}

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
  deviation([before, after], _kernel, tolerance_mm = 0.001) {
    const { deviation: result } = deviation(meshOf(before), meshOf(after), { tolerance_mm });
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
  compare(files, kernel) {
    return compared(files, kernel, {});
  },
  /** For another triangulation of the same shape: chords differ by less than this. */
  compareWithin(files, kernel) {
    return compared(files, kernel, { tolerance_mm: 0.02 });
  },
};

async function compared([before, after], kernel, options) {
  const result = await compareMeshes(
    () => Promise.resolve(kernel),
    measured(before),
    measured(after),
    options,
  );
  return {
    verdict: result.verdict,
    added: result.volume.added_mm3,
    removed: result.volume.removed_mm3,
    max: result.deviation?.max_mm,
    regions: result.regions.length,
  };
}

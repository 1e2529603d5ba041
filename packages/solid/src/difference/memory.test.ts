import { expect, it } from 'vitest';
import { loadKernel } from '../kernel.ts';
import { ballMesh, boxMesh, insideOut, mapped, together } from '../testing/shapes.ts';
import { materialDifference } from './material-difference.ts';

/** Loads the kernel and catches hold of its memory, which it does not show by itself. */
async function kernelWithMemory() {
  const instantiate = WebAssembly.instantiate;
  const seen: WebAssembly.Memory[] = [];
  const spy = async (module: WebAssembly.Module, imports?: WebAssembly.Imports) => {
    const made = await instantiate(module, imports);
    const instance = 'instance' in made ? (made.instance as WebAssembly.Instance) : made;
    seen.push(...Object.values(instance.exports).filter(item => item instanceof WebAssembly.Memory));
    return made;
  };
  Object.assign(WebAssembly, { instantiate: spy });
  try {
    return { kernel: await loadKernel(), memory: seen[0] };
  } finally {
    Object.assign(WebAssembly, { instantiate });
  }
}

it('200 comparisons, failures included, leave no solid behind: the kernel needs no more memory', async () => {
  const { kernel, memory } = await kernelWithMemory();
  expect(memory).toBeInstanceOf(WebAssembly.Memory);
  const ball = ballMesh(5, 10, 12);
  const dented = mapped(ball, ([x, y, z]) => (z > 4 ? [x, y, 4.2] : [x, y, z]));
  const several = together(ball, boxMesh([-7, -1, -1], [7, 1, 1]), insideOut(ballMesh(1, 5, 6)));
  const open = { positions: ball.positions, triangles: ball.triangles.slice(3) };
  const broken = mapped(ball, ([x, y, z]) => (z > 4 ? [NaN, y, z] : [x, y, z]));
  const run = (): void => {
    for (const [before, after] of [
      [ball, dented],
      [several, ball],
      [ball, open],
      [ball, broken],
    ]) {
      materialDifference(kernel, before, after, { tolerance_mm: 1e-3 });
    }
  };
  for (let i = 0; i < 5; i++) run();
  const size = memory.buffer.byteLength;
  for (let i = 0; i < 45; i++) run();
  expect(memory.buffer.byteLength).toBe(size);
}, 120_000);

import { parentPort } from 'node:worker_threads';
import { drawOrTell } from './draw-or-tell.ts';
import type { DrawRequest } from './part-drawing.ts';

// The entry of a thread that draws: a request comes in, a drawing goes out, or why there is none.
parentPort?.on('message', (request: DrawRequest) => {
  const drawing = drawOrTell(request);
  const buffers =
    drawing.kind === 'drawn'
      ? [drawing.small, drawing.large].map(({ png }) => png.buffer as ArrayBuffer)
      : [];
  parentPort?.postMessage(drawing, [...new Set(buffers)]);
});

import { drawPart } from './draw-part.ts';
import type { DrawRequest, PartDrawing, Undrawn } from './part-drawing.ts';

/** A drawing; where it fails, that. One part without a picture is no reason to have no review. */
export function drawOrTell(request: DrawRequest): PartDrawing | Undrawn {
  try {
    return drawPart(request);
  } catch (error) {
    return { kind: 'undrawn', reason: failed(error) };
  }
}

/** That drawing failed, and of what. */
export function failed(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return `drawing it failed by a fault of the program: ${text.split('\n')[0]}`;
}

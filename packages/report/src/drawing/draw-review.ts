import {
  eachPartShapes,
  openSpool,
  type OpenReview,
  type PartReview,
  type Spooled,
} from '@kinprint/registry';
import { pictureDefaults } from '../pictures/defaults.ts';
import { drawRequest } from './draw-request.ts';
import { isDrawn } from './is-drawn.ts';
import { openDrawers } from './open-drawers.ts';
import type { PartDrawing, Undrawn } from './part-drawing.ts';

/** What was drawn of a review. */
export interface ReviewDrawings {
  /** null for a part that has no mesh to show, or nothing to see. */
  of(part: PartReview): Promise<PartDrawing | Undrawn | null>;
  /** Parts that have a mesh and no picture, in their order. */
  readonly undrawn: readonly { readonly name: string; readonly why: Undrawn }[];
  close(): Promise<void>;
}

/**
 * Draws every part of a review that changed, once for all outputs, in threads. What is drawn is held in memory up to a
 * bound and in files beyond it.
 *
 * @param progress called after each part
 */
export async function drawReview(
  { review, pairs, held }: Pick<OpenReview, 'review' | 'pairs' | 'held'>,
  progress: (done: number, all: number) => void = () => undefined,
): Promise<ReviewDrawings> {
  const { memory_bytes, detailed } = pictureDefaults.drawing;
  const parts = review.variants.flatMap(variant =>
    variant.parts.filter(isDrawn).flatMap(part => {
      const pair = pairs.get(part);
      return pair === undefined ? [] : [[{ variant, part }, pair] as const];
    }),
  );
  const order = new Map(parts.map(([{ part }], k) => [part, k]));
  const spool = openSpool<PartDrawing | Undrawn>(memory_bytes);
  const drawn = new Map<PartReview, Spooled<PartDrawing | Undrawn>>();
  const undrawn: { name: string; why: Undrawn }[] = [];
  const drawers = openDrawers({ parts: parts.length });
  try {
    let done = 0;
    await eachPartShapes(parts, held, {
      async make({ variant, part }, shapes): Promise<PartDrawing | Undrawn | null> {
        if (shapes === null) return null;
        if (shapes.kind === 'fault')
          return {
            kind: 'undrawn',
            reason: `comparing it failed by a fault of the program: ${firstLine(shapes.text)}`,
          };
        return drawers.draw(drawRequest(variant, part, shapes, (order.get(part) ?? 0) < detailed));
      },
      async take({ variant, part }, drawing) {
        if (drawing?.kind === 'undrawn')
          undrawn.push({ name: `${variant.address}/${part.id}`, why: drawing });
        if (drawing !== null) drawn.set(part, await spool.put(drawing));
        progress(++done, parts.length);
      },
    });
  } catch (error) {
    await spool.close();
    throw error;
  } finally {
    await drawers.close();
  }
  return {
    undrawn,
    of: async part => (await drawn.get(part)?.get()) ?? null,
    close: () => spool.close(),
  };
}

function firstLine(text: string): string {
  return text.split('\n')[0];
}

import { availableParallelism } from 'node:os';
import { askInTime, openThreads } from '@kinprint/registry';
import { pictureDefaults } from '../pictures/defaults.ts';
import { count } from '../terminal/words.ts';
import { builtDrawer } from './built-drawer.ts';
import { drawOrTell, failed } from './draw-or-tell.ts';
import type { DrawRequest, PartDrawing, Undrawn } from './part-drawing.ts';

/** Draws parts, several at a time. */
export interface Drawers {
  /** Never rejects. The meshes of the request are given away. */
  draw(request: DrawRequest): Promise<PartDrawing | Undrawn>;
  close(): Promise<void>;
}

export interface DrawerOptions {
  /** Parts to be drawn in all. */
  readonly parts: number;
  /** The file of the threads; null to draw in this one, where nothing ends what takes too long. */
  readonly drawer?: URL | null;
  readonly threads?: number;
  readonly timeLimit_ms?: (triangles: number) => number;
}

/** Threads that draw, as many as the machine runs at a time; by default of the file built beside this one. */
export function openDrawers({
  parts,
  drawer = builtDrawer(),
  threads = availableParallelism(),
  timeLimit_ms = drawingTime_ms,
}: DrawerOptions): Drawers {
  if (drawer === null)
    return { draw: request => Promise.resolve(drawOrTell(request)), close: () => Promise.resolve() };
  const crew = openThreads(drawer, Math.max(1, Math.min(threads, parts)));
  return {
    async draw(request) {
      const limit = timeLimit_ms(trianglesOf(request));
      try {
        const asked = await crew.run(mine => askInTime(mine, request, [], limit));
        switch (asked.state) {
          case 'answered':
            return asked.answer as PartDrawing | Undrawn;
          case 'late':
            return undrawn(`drawing it took longer than ${count(Math.round(limit / 1000))} s`);
          case 'out-of-memory':
            return undrawn('drawing it took too much memory');
        }
      } catch (error) {
        return undrawn(failed(error));
      }
    },
    close: () => crew.close(),
  };
}

function undrawn(reason: string): Undrawn {
  return { kind: 'undrawn', reason };
}

function drawingTime_ms(triangles: number): number {
  const { time_ms, timePerTriangle_ms } = pictureDefaults.drawing;
  return time_ms + timePerTriangle_ms * triangles;
}

function trianglesOf({ subject }: DrawRequest): number {
  const meshes =
    subject.kind === 'alone' ? [subject.mesh] : [subject.change.meshes.before, subject.change.meshes.after];
  return meshes.reduce((sum, { triangles }) => sum + triangles.length / 3, 0);
}

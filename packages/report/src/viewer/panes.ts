import type { Pane } from './stage.ts';

/** Divides a picture evenly: beside each other where that leaves them wide enough, else one below the other. */
export function panesOf(count: number, width: number, height: number): Pane[] {
  const beside = count === 1 || width >= 560;
  return Array.from({ length: count }, (_, k) =>
    beside
      ? { x: (k * width) / count, y: 0, width: width / count, height }
      : { x: 0, y: (k * height) / count, width, height: height / count },
  );
}

/** The pane that a place of the picture is in. */
export function paneAt(panes: readonly Pane[], x: number, y: number): number {
  return panes.findIndex(
    pane => x >= pane.x && x < pane.x + pane.width && y >= pane.y && y < pane.y + pane.height,
  );
}

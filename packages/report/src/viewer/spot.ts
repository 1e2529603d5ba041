/** A place on the canvas, in pixels of the page from its upper left. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

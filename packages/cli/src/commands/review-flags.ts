/** The options of `review`, as commander gives them. */
export interface ReviewFlags {
  readonly html?: string;
  readonly markdown?: string;
  readonly sarif?: string;
  readonly junit?: string;
  readonly pictureUrl?: string;
  readonly shapes: boolean;
  readonly registry?: string;
  readonly cache: boolean;
  readonly json: boolean;
}

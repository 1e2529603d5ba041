/** The options of `prepare`, as commander gives them. */
export interface PrepareFlags {
  readonly base?: string;
  readonly add: boolean;
  readonly output?: string;
  readonly pictureUrl?: string;
  readonly shapes: boolean;
  readonly registry?: string;
  readonly cache: boolean;
  readonly json: boolean;
}

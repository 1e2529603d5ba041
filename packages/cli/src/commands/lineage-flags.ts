/** The options of `lineage`, as commander gives them. */
export interface LineageFlags {
  readonly ancestors: boolean;
  readonly descendants: boolean;
  readonly common?: string;
  readonly format: string;
  readonly output?: string;
  readonly registry?: string;
  readonly sources: boolean;
  readonly json: boolean;
}

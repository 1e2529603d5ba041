/** The options of `measure`, as commander gives them. */
export interface MeasureFlags {
  readonly unit?: string;
  readonly up: string;
  readonly json: boolean;
}

/** The options of `compare`, as commander gives them. */
export interface CompareFlags {
  readonly repo?: string;
  readonly asPlaced: boolean;
  readonly tolerance?: number;
  readonly density: number;
  readonly unit?: string;
  readonly failOn?: readonly string[];
  readonly json: boolean;
}

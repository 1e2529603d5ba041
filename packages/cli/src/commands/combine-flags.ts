/** The options of `combine`, as commander gives them. */
export interface CombineFlags {
  readonly output?: string;
  readonly take?: readonly string[];
  readonly asPlaced: boolean;
  readonly tolerance?: number;
  readonly touch?: number;
  readonly unit?: string;
  readonly title?: string;
  readonly registry?: string;
  readonly json: boolean;
}

/** How solids are combined. */
export function meshOptions(flags: CombineFlags) {
  return {
    asPlaced: flags.asPlaced,
    ...(flags.tolerance === undefined ? {} : { tolerance_mm: flags.tolerance }),
    ...(flags.touch === undefined ? {} : { touch_mm: flags.touch }),
  };
}

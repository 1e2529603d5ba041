/** The options of `picture`, as commander gives them. */
export interface PictureFlags {
  readonly against?: string;
  readonly output: string;
  readonly size?: readonly [number, number];
  readonly from?: string;
  readonly repo?: string;
  readonly registry?: string;
  readonly unit?: string;
  readonly sideBySide?: boolean;
  readonly json: boolean;
}

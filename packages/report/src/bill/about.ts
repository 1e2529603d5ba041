import type { Credits } from '@kinprint/license';

/** What a bill of materials says beside the bill itself. */
export interface BillAbout {
  /** The attribution of the same work. */
  readonly credits: Credits;
  /** ISO 8601 date that the document bears; not the day it was written, so that it is always the same. */
  readonly date: string;
  /** Of kinprint. */
  readonly version: string;
}

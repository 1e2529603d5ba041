import type { Mesh } from '@kinprint/mesh';
import type { ChangeSubject } from '../pictures/change-subject.ts';
import type { PartData, Side } from '../review-page/part-data.ts';

/** What is to be drawn of a part: plain data, to be sent to another thread. */
export interface DrawRequest {
  readonly subject:
    | { readonly kind: 'change'; readonly change: ChangeSubject }
    /** Only one side has it, or it is drawn as it is. */
    | { readonly kind: 'alone'; readonly title: string; readonly side: Side; readonly mesh: Mesh };
  /** Whether the large picture shows a change from all sides; else it is one view. */
  readonly detailed: boolean;
}

/** A picture as a PNG file. */
export interface Still {
  readonly png: Uint8Array;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  /** What it shows, in words. */
  readonly description: string;
}

/** Everything that is drawn of a part for any output: plain data. */
export interface PartDrawing {
  readonly kind: 'drawn';
  /** For lists, without words. */
  readonly small: Still;
  readonly large: Still;
  /** For a viewer. */
  readonly surfaces: PartSurfaces;
}

/** What a viewer needs that is made of meshes. */
export type PartSurfaces = Omit<PartData, 'places'>;

/** Why a part that has a mesh has no picture. */
export interface Undrawn {
  readonly kind: 'undrawn';
  readonly reason: string;
}

import type { ClearanceClass, ClearanceRange, ClearanceVerdict } from '@kinprint/fit';
import type { Affine, Bounds, Note } from '@kinprint/mesh';
import type { InterferenceRegion } from '@kinprint/solid';

/** What a variant's parts are to each other, as they are placed and as they were measured. Plain data. */
export interface AssemblyReport {
  /** In the order of the manifest's `assembly`. */
  readonly placed: readonly PlacedInstance[];
  /** Parts of which no copy is placed: they are in no interference. In the order of the manifest. */
  readonly unplaced: readonly UnplacedPart[];
  /** By the order of `placed`; null where it could not be found out, which a note says. */
  readonly interferences: readonly PlacedInterference[] | null;
  /** All that is declared to mate: bores, slots and faces with what they take, placed or not, in the order of the manifest. */
  readonly mates: readonly Mate[];
  /** For every piece of hardware that placed bores take, in the order of the bores. */
  readonly hardware: readonly HardwareRows[];
  /** Codes `assembly-not-finished`, `assembly-not-a-solid`, `assembly-too-many`. */
  readonly notes: readonly Note[];
}

/** One placed copy of a part. */
export interface PlacedInstance {
  /** The part's id; `clip#2`, `clip#3` for further copies. */
  readonly name: string;
  readonly part: string;
  /** Its index in the manifest's `assembly`. */
  readonly placement: number;
  /** From the mesh to the assembly, in millimeters; rows first. */
  readonly motion: Affine;
  /** Box around the turned box of its mesh; null where that could not be measured. */
  readonly bounds_mm: Bounds | null;
}

export interface UnplacedPart {
  readonly part: string;
  /** `unreadable`: it is placed, but its mesh could not be measured. */
  readonly why: 'no-placement' | 'unreadable';
}

/** Two placed parts that claim the same space. */
export interface PlacedInterference {
  /** Names of the instances, the one placed first first. */
  readonly a: string;
  readonly b: string;
  readonly volume_mm3: number;
  readonly depth_mm: number;
  /** In the frame of the assembly; largest first. */
  readonly regions: readonly InterferenceRegion[];
  /** All of it lies where one is declared to be pressed into the other, or to cut a thread in it. */
  readonly intended: boolean;
}

/** A bore or slot and what it is declared to take, or two faces. */
export interface Mate {
  readonly seat: MateEnd & { readonly kind: 'bore' | 'slot' | 'face' };
  readonly takes: (MateEnd & { readonly kind: 'pin' | 'tongue' | 'face' }) | HardwareEnd;
  readonly declared: ClearanceClass | null;
  /**
   * As measured: on the diameter, bore minus pin, of several the tightest pair; on the width, slot minus what goes in; or
   * the gap between two faces as they are placed, of several copies the one farthest from touching. Negative is
   * interference. null where one of the two could not be measured, or faces are not placed against each other. To the
   * micrometer.
   */
  readonly clearance_mm: number | null;
  /** What the declared class asks for; null where it asks for nothing, or none is declared for a bore or slot. */
  readonly asked: ClearanceRange | null;
  /** How the measured clearance stands to the class. */
  readonly verdict: ClearanceVerdict | 'unmeasured';
  /** How the two stand, for each placed copy of the seat; empty where one of the two is not placed. */
  readonly lines: readonly MateLine[];
}

export interface MateEnd {
  readonly part: string;
  readonly interface: string;
  /** The declared nominal size. */
  readonly nominal_mm: number | null;
  /**
   * Of a bore the circle inscribed in its facets, of several bores the narrowest; of a pin the circle around its corners,
   * of several the widest; of a slot or tongue its width. null where it was not found, and of a face.
   */
  readonly measured_mm: number | null;
}

/** Something bought. It has no place of its own; its bores in several parts should lie in line. */
export interface HardwareEnd {
  readonly kind: 'hardware';
  readonly hardware: string;
  /** As the manifest states it, e.g. `M3 × 16`. */
  readonly size: string | null;
  /** What of it goes in, as the manifest states it, or else the diameter of its thread; null where nothing says. */
  readonly across_mm: number | null;
}

/** A placed seat, and what is nearest to it; for hardware the nearest bore of another part that takes the same. */
export interface MateLine {
  /** Instance of the seat's part. */
  readonly seat: string;
  /** Instance and interface of the other. */
  readonly other: string;
  readonly other_interface: string;
  /**
   * Of the other's axis, or the middle between its faces, from the middle of the seat; of two faces the gap between them,
   * negative where they overlap.
   */
  readonly offset_mm: number;
  /** Between the axes or the planes, 0 to 90. */
  readonly angle_deg: number;
  /**
   * Length of the axis that a bore and a pin share; negative is the gap between them. Bores of one screw need share none.
   * null of slots and faces: nothing tells how far they reach.
   */
  readonly overlap_mm: number | null;
  /** Whether offset and angle are within what play and tolerances take up; of two faces: whether they face each other. */
  readonly in_line: boolean;
}

/** Something bought, and the placed bores that take it. */
export interface HardwareRows {
  readonly hardware: string;
  /** How many are bought. */
  readonly quantity: number;
  /** How many are needed at least: one for each row of bores in line, more where a row is longer than what is bought. */
  readonly needed: number;
  /** All placed bores that take it: more of it cannot be used. */
  readonly bores: number;
  /** Whether all declared bores were found and are placed. */
  readonly complete: boolean;
  /** Bores that should be in line and are not, two and two. */
  readonly strays: readonly StrayBores[];
}

/** Two bores of different parts that miss each other, or of which one piece of hardware would have to serve both. */
export interface StrayBores {
  /** Of the part that the manifest names first. */
  readonly a: StrayBore;
  readonly b: StrayBore;
  readonly offset_mm: number;
  readonly angle_deg: number;
}

export interface StrayBore {
  readonly instance: string;
  readonly part: string;
  readonly interface: string;
}

/** What two assemblies differ in. */
export interface AssemblyComparison {
  /** Interferences that changed, the gravest first; null where those of a side could not be found out. */
  readonly interferences: readonly InterferenceChange[] | null;
  /** Clearances that changed, in the order of AFTER, then those that are gone. */
  readonly clearances: readonly ClearanceChange[];
  /** Pairs that are as they should be before and after, and not when only one of the two is exchanged. */
  readonly exchanges: readonly MixedPair[];
  /** Placed copies that only one side has. */
  readonly placed: readonly { readonly name: string; readonly change: 'added' | 'removed' }[];
}

/** A new one of two mates with the old other one. */
export interface MixedPair {
  readonly seat: Mate['seat'];
  /** `part/interface`. */
  readonly takes: string;
  /** Which of the two is new. */
  readonly exchanged: 'seat' | 'other';
  /** On the diameter or the width, as measured. */
  readonly clearance_mm: number;
  /** What is asked of the pair. */
  readonly asked: ClearanceRange | null;
}

export interface InterferenceChange {
  readonly a: string;
  readonly b: string;
  readonly change: 'new' | 'gone' | 'grown' | 'shrunk';
  readonly before: PlacedInterference | null;
  readonly after: PlacedInterference | null;
}

export interface ClearanceChange {
  readonly seat: Mate['seat'];
  /** `part/interface` or `hardware/id`. */
  readonly takes: string;
  /** `changed`: measured otherwise, or judged otherwise. */
  readonly change: 'added' | 'removed' | 'changed';
  readonly before: Mate | null;
  readonly after: Mate | null;
  /**
   * `left`: it was as its class asks (or, without a class, there was play, or the faces touched) and is no more. `entered`: the other way
   * round. null: on the same side of the limits, or it cannot be told.
   */
  readonly crossed: 'left' | 'entered' | null;
  /** Whether the two fell out of line, or came into it; null: no change, or it cannot be told. */
  readonly line: 'left' | 'entered' | null;
}

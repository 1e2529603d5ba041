import type {
  AlignedVerdict,
  Alignment,
  Choices,
  Combination,
  CombineMeshOptions,
  ComparedShapes,
  CompareOptions,
  Comparison,
  FileSummary,
  RelateOptions,
} from '@kinprint/compare';
import type { Mesh } from '@kinprint/mesh';
import type { Interferences, MaterialDifference, MaterialOptions } from '@kinprint/solid';
import type {
  Affine,
  FileMeasurement,
  Measurement,
  MeasureOptions,
  Place,
  Plane,
  ReadOptions,
  Vec3,
} from '@kinprint/mesh';
import type { MeshPrints } from '../kin/mesh-prints.ts';
import type { Kinship } from '../kin/verify-kin.ts';
import type { OpenSource } from '../snapshot/types.ts';

/** Where a task finds a mesh file: on disk, in bytes sent along, or (within one thread) in an open source. */
export type FileContent =
  | { readonly kind: 'file'; readonly path: string; readonly root: string | null }
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'source'; readonly source: OpenSource };

export interface FileInput {
  /** For messages. */
  readonly name: string;
  readonly content: FileContent;
  /** Only this body of the file. */
  readonly body: number | null;
}

/** How files are read, measured and compared. */
export type PairOptions = ReadOptions &
  CompareOptions &
  Pick<MeasureOptions, 'walls' | 'overhang' | 'selfIntersections'>;
export type FileOptions = ReadOptions & MeasureOptions;

/** What `measureFiles` gives for a file: the figures, without the mesh. */
export type FileReport = Omit<FileMeasurement, 'mesh'>;

export interface PairComparison {
  readonly comparison: Comparison;
  /** Of BEFORE and AFTER. */
  readonly measurements: readonly [Measurement, Measurement];
  /** What was compared, where it was asked for; see there for `carried`. */
  readonly shapes: (Partial<ComparedShapes> & { readonly before: Mesh; readonly after: Mesh }) | null;
}

/** What the alignment of two files alone tells: much cheaper than a comparison. */
export interface PairRelation {
  readonly verdict: AlignedVerdict;
  readonly alignment: Alignment;
}

/** A mesh file's format to write. */
export type WrittenFormat = 'stl' | '3mf';

/** The three meshes of a combination, each read in its own way. */
export interface CombineFiles {
  readonly base: FileInput;
  readonly a: FileInput;
  readonly b: FileInput;
  readonly read: { readonly base: ReadOptions; readonly a: ReadOptions; readonly b: ReadOptions };
}

export interface CombineOutput {
  readonly combination: Combination;
  /** The result as a mesh file; null while a conflict is open. */
  readonly bytes: Uint8Array | null;
}

/** How a shape stands with one direction downward. */
export interface Stand {
  /** For each volume by how many degrees it must be turned about the vertical to fit; null where it does not. */
  readonly turned_deg: readonly (number | null)[];
}

/** A piece of work that a worker can do by itself. */
export type Task =
  | { readonly kind: 'measure'; readonly file: FileInput; readonly options: FileOptions }
  | { readonly kind: 'summarize'; readonly file: FileInput; readonly options: PairOptions }
  | {
      readonly kind: 'compare';
      readonly before: FileInput;
      readonly after: FileInput;
      /** How BEFORE is read, where it is of another unit. */
      readonly beforeOptions?: PairOptions;
      readonly options: PairOptions;
      /** Whether the result holds the solids. */
      readonly shapes?: boolean;
    }
  | {
      readonly kind: 'relate';
      readonly before: FileInput;
      readonly after: FileInput;
      readonly options: ReadOptions & RelateOptions;
    }
  /** Whether a shape is its own mirror image. */
  | {
      readonly kind: 'symmetric';
      readonly file: FileInput;
      readonly options: ReadOptions & RelateOptions;
    }
  /** How a shape stands on beds with one direction or another downward. */
  | {
      readonly kind: 'stand';
      readonly file: FileInput;
      readonly downs: readonly Vec3[];
      /** Width, depth, height. */
      readonly volumes_mm: readonly Vec3[];
      readonly options: ReadOptions;
    }
  /** The planes near some points, however small they are beside others. */
  | {
      readonly kind: 'planes';
      readonly file: FileInput;
      readonly near: readonly Vec3[];
      readonly options: ReadOptions;
    }
  | { readonly kind: 'prints'; readonly file: FileInput; readonly options: ReadOptions }
  | {
      readonly kind: 'kin';
      readonly query: FileInput;
      readonly candidate: FileInput;
      readonly queryOptions: ReadOptions;
      readonly candidateOptions: ReadOptions;
    }
  | {
      readonly kind: 'combine';
      readonly files: CombineFiles;
      readonly options: CombineMeshOptions;
      readonly choices: Choices;
      readonly format: WrittenFormat;
      /** A name to keep by what is known of the three, to be asked again. */
      readonly keepAs: string;
    }
  /** A combination that was kept, with other choices. */
  | {
      readonly kind: 'combine-again';
      readonly kept: string;
      readonly choices: Choices;
      readonly format: WrittenFormat;
    }
  /** What meshes interfere with where they stand. */
  | {
      readonly kind: 'interferences';
      readonly meshes: readonly { readonly file: FileInput; readonly options: ReadOptions }[];
      /** Indices of `meshes`, and where they stand. */
      readonly placed: readonly { readonly mesh: number; readonly motion: Affine }[];
    }
  | {
      readonly kind: 'material';
      readonly before: Mesh;
      readonly after: Mesh;
      readonly options: MaterialOptions;
    };

/** What each kind of task results in. */
export interface TaskResults {
  readonly measure: FileReport;
  readonly summarize: FileSummary;
  readonly compare: PairComparison;
  readonly relate: PairRelation;
  readonly symmetric: boolean;
  readonly stand: readonly Stand[];
  readonly planes: readonly Plane[];
  readonly prints: MeshPrints;
  readonly kin: Kinship | null;
  readonly combine: CombineOutput;
  readonly 'combine-again': CombineOutput;
  readonly interferences: Interferences;
  readonly material: MaterialDifference;
}

/** A result, or an error as data: classes do not survive the way between threads. */
export type TaskOutcome<T> =
  | { readonly state: 'done'; readonly result: T }
  | {
      readonly state: 'input-error';
      readonly side: 'before' | 'after' | null;
      readonly error: InputErrorData;
    }
  | { readonly state: 'fault'; readonly text: string };

export interface InputErrorData {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  readonly place: Place;
}

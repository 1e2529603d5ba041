/** The options of `start`, `derive`, `record` and `show`, as commander gives them. */
export interface StartFlags {
  readonly name: string;
  readonly summary?: string;
  readonly maintainer?: string;
  readonly json: boolean;
}

export interface DeriveFlags {
  readonly relation: string;
  readonly scale?: number;
  readonly from?: readonly string[];
  readonly title?: string;
  readonly registry?: string;
  readonly json: boolean;
}

export interface RecordFlags {
  readonly by?: string;
  readonly date?: string;
  readonly anyDate: boolean;
  readonly letter?: string;
  readonly summary?: string;
  readonly dryRun: boolean;
  readonly registry?: string;
  readonly json: boolean;
}

export interface ShowFlags {
  readonly format: 'text' | 'json' | 'okh';
  readonly repo?: string;
  readonly at?: string;
  readonly registry?: string;
  readonly cache: boolean;
  readonly json: boolean;
}

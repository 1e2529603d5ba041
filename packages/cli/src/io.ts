/** The outside world of a run: handed in, so that the whole command line is a function that tests can call. */
export interface Io {
  readonly cwd: string;
  /** Results. */
  readonly out: (text: string) => void;
  /** Talk: progress, warnings, errors. */
  readonly err: (text: string) => void;
  /** Columns of the screen that `out` goes to; 80 when it is no screen. */
  readonly columns: number;
  /** Whether `out` may be colored. */
  readonly color: boolean;
  /** Whether `err` is a terminal, where progress is welcome. */
  readonly progress: boolean;
  /** Opens a conversation with the person at the terminal; absent where input and output are not both one. */
  readonly openDialog?: () => Dialog;
}

/** A conversation: typed lines in the order they came. */
export interface Dialog {
  /** Puts a question and waits for a line; null at the end of the input. */
  ask(this: void, question: string): Promise<string | null>;
  close(this: void): void;
}

/** Exit codes of every command. */
export const exit = {
  fine: 0,
  /** Findings that a gate should stop on. */
  findings: 1,
  /** Wrong use, or input that cannot be used. */
  usage: 2,
  /** A fault of ours. */
  fault: 70,
} as const;

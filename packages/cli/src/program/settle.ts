/** Takes the exit code of the command that ran. */
export type Settle = (code: number) => void;

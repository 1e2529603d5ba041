/** Where a finding stands, as check, audit and review have it. */
export interface Placed {
  /** From the registry's root; null where no file is at fault. */
  readonly file: string | null;
  readonly line: number | null;
  readonly column: number | null;
}

/** @param prefix the registry's folder in its repository, without slash at the end: a code host counts from the root */
export function findingLocation({ file, line, column }: Placed, prefix: string): object {
  if (file === null) return {};
  const steps = [...(prefix === '' ? [] : prefix.split('/')), ...file.split('/')];
  return {
    physicalLocation: {
      artifactLocation: { uri: steps.map(step => encodeURIComponent(step.toWellFormed())).join('/') },
      ...(line === null
        ? {}
        : { region: { startLine: line, ...(column === null ? {} : { startColumn: column }) } }),
    },
  };
}

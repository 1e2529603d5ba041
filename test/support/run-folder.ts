import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** What the test files of one run share; gone when it ends. */
    runFolder: string;
  }
}

/** Gives all test files of a run one folder for what is costly to make and the same for all. */
export default function setup(project: TestProject): () => void {
  const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-run-'));
  project.provide('runFolder', folder);
  return () => rmSync(folder, { recursive: true, force: true });
}

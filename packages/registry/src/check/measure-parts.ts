import { InputError, millimetersPer, type Unit } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { entryOf } from '../state/entries.ts';
import { hashAndClose } from '../snapshot/read-and-close.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import { entryInput } from '../work/entry-input.ts';
import { openPool } from '../work/pool.ts';
import type { FileReport, TaskOutcome } from '../work/task.ts';
import { factsOf, isKeptLook, type PartLook } from './facts.ts';

const kind = 'measured-part';
/** Rises with any change of what is measured or how. */
const version = 1;

/** A mesh to measure, read in a unit or in its own. */
export interface MeshWanted {
  readonly ref: FileRef;
  readonly unit: Unit | null;
}

export interface MeasurePartsOptions {
  readonly cache: Cache;
  /** Told how many of the meshes that had to be measured are done. */
  readonly progress?: (done: number, total: number) => void;
  readonly worker?: URL | null;
}

/**
 * Measures meshes of a registry's state on all cores. What was measured before is taken from the cache by content and
 * unit; a content that occurs several times is measured once.
 *
 * @returns one for each wanted mesh, in their order
 */
export async function measureParts(
  files: RegistryFiles,
  wanted: readonly MeshWanted[],
  { cache, progress = () => undefined, worker }: MeasurePartsOptions,
): Promise<PartLook[]> {
  const keys: (string | null)[] = [];
  for (const { ref, unit } of wanted) keys.push(ref.problem === null ? await keyOf(files, ref, unit) : null);

  const looks = new Map<string, PartLook>();
  const missing = new Map<string, MeshWanted>();
  keys.forEach((key, k) => {
    if (key === null || looks.has(key) || missing.has(key)) return;
    const known = key.startsWith(unreadableKey) ? undefined : cache.get(kind, version, key);
    if (isKeptLook(known)) looks.set(key, known);
    else missing.set(key, wanted[k]);
  });

  if (missing.size > 0) {
    const bytes = [...missing.values()].reduce((sum, { ref }) => sum + (ref.size ?? 0), 0);
    const pool = openPool({ bytes, tasks: missing.size, ...(worker === undefined ? {} : { worker }) });
    let done = 0;
    try {
      await Promise.all(
        [...missing].map(async ([key, { ref, unit }]) => {
          const outcome = await pool.run<'measure'>(async () => ({
            kind: 'measure',
            file: await entryInput(await entryOf(files, ref), null, pool.threads),
            options: unit === null ? {} : { unit },
          }));
          const look = lookOf(outcome);
          looks.set(key, look);
          if (lasts(look) && (await isStill(files, ref, key))) cache.put(kind, version, key, look);
          progress(++done, missing.size);
        }),
      );
    } finally {
      await pool.close();
      cache.flush();
    }
  }

  return wanted.map(({ ref }, k): PartLook => {
    if (ref.problem !== null) return { state: 'absent', problem: ref.problem };
    const look = looks.get(keys[k] ?? '');
    if (look === undefined) throw new Error(`${ref.path} was not measured.`);
    return look;
  });
}

/**
 * Whether a look says something of the content itself. A fault of ours may be gone with the next version, and a file
 * that could not be opened or fetched may be there the next time.
 */
function lasts(look: PartLook): boolean {
  if (look.state !== 'unreadable') return look.state === 'measured';
  return !/^(file|lfs|object)-|^(missing|too-large|unreadable|not-regular)$/.test(look.error.code);
}

/**
 * Whether a file has the content that its key names, after it was measured: what is measured of a file that was changed
 * meanwhile must not be remembered under its earlier hash. Commits do not change.
 */
async function isStill(files: RegistryFiles, ref: FileRef, key: string): Promise<boolean> {
  if (files.kind === 'commit') return true;
  try {
    return key.startsWith(hashAndClose(await files.open(ref)));
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

/** Keys of files that cannot even be hashed; measuring them says why. */
const unreadableKey = 'unreadable ';

async function keyOf(files: RegistryFiles, ref: FileRef, unit: Unit | null): Promise<string> {
  try {
    return `${await files.sha256(ref)}:${unit ?? ''}`;
  } catch {
    return unreadableKey + ref.path;
  }
}

function lookOf(outcome: TaskOutcome<FileReport>): PartLook {
  switch (outcome.state) {
    case 'done':
      return { state: 'measured', facts: factsOf(outcome.result.whole) };
    case 'input-error':
      return { state: 'unreadable', error: outcome.error };
    case 'fault':
      return { state: 'failed', text: outcome.text };
  }
}

/** A unit that a manifest names, as the readers take it. */
export function unitOf(name: string | undefined): Unit | null {
  return name !== undefined && name in millimetersPer ? (name as Unit) : null;
}

import { isId, licenseProblem } from '@kinprint/manifest';
import { InputError, type Unit } from '@kinprint/mesh';
import { analyze } from './judge/analyze.ts';
import { openAdoptSource } from './open-source.ts';
import { requirePortable } from '../snapshot/portable-names.ts';
import { makePlan } from './plan/make-plan.ts';
import type { AdoptPlan } from './plan/types.ts';
import { writePlan, type Adopted, type AdoptPoint } from './write/write-plan.ts';

export interface AdoptOptions {
  /** The registry's root; null only for a dry run. */
  readonly registry: string | null;
  /** The name of the device's folder; made from the source's name where left out. */
  readonly device?: string;
  /** A branch, a tag, a commit of the source. */
  readonly at?: string;
  /** Read the numbers as this unit, whatever the files say. */
  readonly unit?: Unit;
  readonly oneVariant?: boolean;
  readonly noHistory?: boolean;
  /** Write down how authors can be reached, as git gives it. */
  readonly contacts?: boolean;
  readonly dryRun?: boolean;
  /** ISO 8601. */
  readonly today: string;
  readonly progress?: (text: string) => void;
  /** For tests. */
  readonly point?: (point: AdoptPoint) => void;
}

export interface AdoptOutcome {
  readonly plan: AdoptPlan;
  /** null for a dry run. */
  readonly adopted: Adopted | null;
}

/**
 * Makes a directory or a git repository of meshes a device of a registry: finds out what is in it, turns its history
 * into revisions, marks what a person must settle. Nothing is overwritten; docs/decisions/0010 says how.
 *
 * @param place a folder, absolute
 * @throws InputError for a source that cannot be read, a device that exists, a registry that cannot be committed to
 */
export async function adopt(place: string, options: AdoptOptions): Promise<AdoptOutcome> {
  const { registry } = options;
  if (options.device !== undefined && !isId(options.device))
    throw new InputError(
      'device-name',
      `'${options.device}' is no name for a device.`,
      'Use lower-case letters, digits and single hyphens, at most 64.',
    );
  if (options.device !== undefined) requirePortable(options.device);
  const source = await openAdoptSource(place, {
    registry,
    ...(options.at === undefined ? {} : { at: options.at }),
    ...(options.noHistory === undefined ? {} : { noHistory: options.noHistory }),
  });
  try {
    const progress = options.progress ?? (() => undefined);
    const analysis = await analyze(source, { unit: options.unit ?? null, progress });
    const plan = await makePlan(source, analysis, {
      device: options.device,
      oneVariant: options.oneVariant ?? false,
      validLicense: expression => licenseProblem(expression) === null,
    });
    if (options.dryRun === true || registry === null) return { plan, adopted: null };
    const adopted = await writePlan(registry, plan, analysis.states, {
      today: options.today,
      contacts: options.contacts ?? false,
      progress,
      ...(options.point === undefined ? {} : { at: options.point }),
    });
    return { plan, adopted };
  } finally {
    await source.close();
  }
}

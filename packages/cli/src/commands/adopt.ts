import path from 'node:path';
import { InputError, type Unit } from '@kinprint/mesh';
import { adopt, findRegistry, namedRegistry } from '@kinprint/registry';
import { adoptJson, adoptText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { stageLine } from '../stage-line.ts';
import { today } from '../today.ts';

/** The options of `adopt`, as commander gives them. */
export interface AdoptFlags {
  readonly registry?: string;
  readonly device?: string;
  readonly at?: string;
  readonly history: boolean;
  readonly oneVariant: boolean;
  readonly contacts: boolean;
  readonly unit?: string;
  readonly dryRun: boolean;
  readonly json: boolean;
}

/** `kinprint adopt PATH`. */
export async function adoptCommand(place: string, flags: AdoptFlags, io: Io): Promise<number> {
  const registry = registryFor(flags, io);
  const progress = stageLine(io);
  try {
    const outcome = await adopt(path.resolve(io.cwd, place), {
      registry,
      ...(flags.device === undefined ? {} : { device: flags.device }),
      ...(flags.at === undefined ? {} : { at: flags.at }),
      ...(flags.unit === undefined ? {} : { unit: flags.unit as Unit }),
      noHistory: !flags.history,
      oneVariant: flags.oneVariant,
      contacts: flags.contacts,
      dryRun: flags.dryRun,
      today: today(),
      progress: text => progress.at(text),
    });
    progress.end();
    const style = { columns: io.columns, color: io.color };
    const named = { ...outcome, plan: { ...outcome.plan, source: { ...outcome.plan.source, name: place } } };
    io.out(`${flags.json ? JSON.stringify(adoptJson(named), null, 2) : adoptText(named, style)}\n`);
    return exit.fine;
  } finally {
    progress.end();
  }
}

/** A dry run needs no registry, but names one that is there. */
function registryFor(flags: AdoptFlags, io: Io): string | null {
  if (flags.registry !== undefined) return namedRegistry(path.resolve(io.cwd, flags.registry));
  try {
    return findRegistry(io.cwd);
  } catch (error) {
    if (flags.dryRun && error instanceof InputError) return null;
    throw error;
  }
}

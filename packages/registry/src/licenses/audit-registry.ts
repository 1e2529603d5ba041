import { audit, type AuditReport, type ShapeFact, type Use } from '@kinprint/license';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { StateHistory } from '../history/content-at.ts';
import { kinOf, kinSubjects, type KinSubject } from '../kin/kin-of.ts';
import type { RegistryState } from '../state/types.ts';
import type { KinPlace } from '../kin/registered-parts.ts';
import { shapeFacts } from './shape-facts.ts';
import { licensePolicy, type RegistryWorks, type WorksContext } from './works-of.ts';

export interface RegistryAuditOptions extends WorksContext {
  /** Ids of the works to audit; what every variant holds now where left out. */
  readonly targets?: readonly string[];
  readonly use?: Use | null;
  /** Whether shapes are looked at, to find relatives that nobody declared. */
  readonly shapes: boolean;
  readonly cache: Cache;
  readonly progress?: (done: number, total: number) => void;
}

export interface RegistryAudit extends AuditReport {
  readonly registry: string;
  /** Letters whose manifest could not be had from history. */
  readonly guessed: readonly string[];
  /** Whether shapes were looked at. */
  readonly shapes: boolean;
  /** Why they could not be; null where they were, or where nobody asked. */
  readonly shapes_problem: string | null;
}

/** Audits what the variants of a registry hold now, or the letters that are named. */
export async function auditRegistry(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  options: RegistryAuditOptions,
): Promise<RegistryAudit> {
  const { targets = [...works.heads.values()], use = null, shapes } = options;
  const looked = shapes ? await look(state, history, works, targets, options) : { facts: [], problem: null };
  const report = audit(works, { targets, use, facts: looked.facts, policy: licensePolicy(state) });
  return {
    ...report,
    registry: state.registry?.value?.name ?? state.files.name,
    guessed: works.guessed,
    shapes: shapes && looked.problem === null,
    shapes_problem: looked.problem,
  };
}

interface Looked {
  readonly facts: readonly ShapeFact[];
  readonly problem: string | null;
}

/** What kin finds of everything that is audited and that lies there now. */
async function look(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  targets: readonly string[],
  { cache, progress }: RegistryAuditOptions,
): Promise<Looked> {
  try {
    const subjects = [];
    for (const [address, head] of works.heads)
      if (targets.includes(head)) subjects.push(...(await subjectsOf(state, address)));
    const report = await kinOf(state, history, subjects, {
      cache,
      undeclaredOnly: true,
      among: notYounger(works),
      ...(progress === undefined ? {} : { progress }),
    });
    return { facts: shapeFacts(report, works), problem: null };
  } catch (error) {
    // A mesh that cannot be read must not keep licenses from being audited; that shapes were not looked at is told.
    if (error instanceof InputError) return { facts: [], problem: error.message };
    throw error;
  }
}

/**
 * Places of variants that were begun no later than ours, or may have been: of younger ones the audit says nothing, and
 * comparing takes most of the time.
 */
function notYounger({ works }: RegistryWorks): (address: string, place: KinPlace) => boolean {
  const first = new Map<string, string>();
  for (const { id, date } of works) {
    const address = id.split('@')[0];
    if (date !== null && date < (first.get(address) ?? '9999')) first.set(address, date);
  }
  return (address, place) => {
    const [ours, theirs] = [first.get(address), first.get(place.address)];
    return ours === undefined || theirs === undefined || theirs <= ours;
  };
}

/** A variant without a mesh that can be read has no shape to be looked up: check says what is wrong with it. */
async function subjectsOf(state: RegistryState, address: string): Promise<KinSubject[]> {
  try {
    return await kinSubjects(state, address);
  } catch (error) {
    if (error instanceof InputError && ['part-missing', 'manifest-unusable'].includes(error.code)) return [];
    throw error;
  }
}

import {
  audit,
  type AuditedWork,
  type AuditReport,
  type Credits,
  type Descent,
  type LeftOut,
  type ShapeFact,
  type Use,
  type Work,
} from '@kinprint/license';
import type { Cache } from '../cache/cache.ts';
import type { StateHistory } from '../history/content-at.ts';
import type { OpenedSource } from '../sources/open-sources.ts';
import type { RegistryState } from '../state/types.ts';
import { shapedDescents, type UnreadPart } from './derived-shapes.ts';
import { findingPlace, type PlacedFinding } from './finding-places.ts';
import { registeredLetters } from './registered-letters.ts';
import { registeredShapes } from './registered-shapes.ts';
import { creditsOf, restatedDescents } from './restated.ts';
import { undeclaredRelatives } from './undeclared-relatives.ts';
import { licensePolicy, sourceWorks, type RegistryWorks, type WorksContext } from './works-of.ts';

export interface RegistryAuditOptions extends WorksContext {
  /** Ids of the works to audit; what every variant holds now where left out. */
  readonly targets?: readonly string[];
  readonly use?: Use | null;
  /** Whether shapes are looked at: what became of them along derivations, and relatives that nobody declared. */
  readonly shapes: boolean;
  readonly cache: Cache;
  readonly progress?: (done: number, total: number) => void;
}

/** An audited work whose findings tell where in its manifest they are. */
export interface PlacedWork extends AuditedWork {
  readonly findings: readonly PlacedFinding[];
  /** Where a use was asked about that names must go along with: the attribution. */
  readonly credits: Credits | null;
}

export interface RegistryAudit extends AuditReport {
  readonly works: readonly PlacedWork[];
  readonly registry: string;
  /** Letters whose manifest could not be had from history. */
  readonly guessed: readonly string[];
  /** Whether shapes were looked at. */
  readonly shapes: boolean;
  /** Parts whose shape could not be looked at. */
  readonly unread: readonly UnreadPart[];
}

/** Audits what the variants of a registry hold now, or the letters that are named. */
export async function auditRegistry(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  options: RegistryAuditOptions,
): Promise<RegistryAudit> {
  const { targets = [...works.heads.values()], use = null, shapes } = options;
  const descents = restatedDescents(works);
  const looked = shapes
    ? await look(state, history, { ...works, descents }, targets, options)
    : { ...(await shapedDescents(descents, works.contents, null)), facts: [], more: [], left: [] };
  const report = audit(
    { works: [...works.works, ...looked.more], descents: looked.descents },
    { targets, use, facts: looked.facts, left: looked.left, policy: licensePolicy(state) },
  );
  return {
    ...report,
    works: report.works.map(work => ({
      ...work,
      credits: work.use === null || work.use.use === 'personal' ? null : creditsOf(works, work.id),
      findings: work.findings.map(each => ({ ...each, ...findingPlace(state, works, each) })),
    })),
    registry: state.registry?.value?.name ?? state.files.name,
    guessed: works.guessed,
    shapes,
    unread: looked.unread,
  };
}

interface Looked {
  readonly descents: readonly Descent[];
  readonly facts: readonly ShapeFact[];
  /** Works of other registries that are no lineage of ours, and that facts are about. */
  readonly more: readonly Work[];
  readonly unread: readonly UnreadPart[];
  readonly left: readonly LeftOut[];
}

async function look(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  targets: readonly string[],
  options: RegistryAuditOptions,
): Promise<Looked> {
  const { cache, progress, sources = new Map<string, OpenedSource>() } = options;
  const counts = lineageOfTargets(works, targets);
  const [far, near] = [
    works.descents.filter(({ from }) => !counts.has(from)),
    works.descents.filter(({ from }) => counts.has(from)),
  ];
  const shaped = await shapedDescents(near, works.contents, cache, progress);
  const shapes = await registeredShapes(state, history, sources, cache, progress);
  const letters = await registeredLetters(state, works, sources);
  const sought = await undeclaredRelatives(shapes, letters, targets, shaped.compared, cache, progress);
  const ids = new Set(works.works.map(({ id }) => id));
  const others = new Set(sought.facts.map(({ other }) => other.work).filter(id => !ids.has(id)));
  return {
    descents: [...far, ...shaped.descents],
    facts: sought.facts,
    more: await sourceWorks(state, [...others], options),
    unread: [...new Map([...shaped.unread, ...sought.unread].map(each => [each.part, each])).values()],
    left: [...shaped.left.map(each => ({ ...each, shapes: 1 })), ...sought.left],
  };
}

/** The works audited, and all that they came from. */
function lineageOfTargets({ descents }: RegistryWorks, targets: readonly string[]): ReadonlySet<string> {
  const older = new Map<string, string[]>();
  for (const { from, to } of descents) older.set(from, [...(older.get(from) ?? []), to]);
  const seen = new Set(targets);
  for (const id of seen) for (const to of older.get(id) ?? []) seen.add(to);
  return seen;
}

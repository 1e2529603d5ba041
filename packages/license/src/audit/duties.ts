import type { Duty } from '../rules/types.ts';
import { dutiesOf } from './duties-of.ts';
import type { WorkGraph } from './graph.ts';
import { layerVerdict } from './layer-verdict.ts';
import type { Layer } from './walk.ts';
import type { Work } from './works.ts';

/** One thing that must be done when a work is passed on, and because of which older work. */
export interface OwedDuty {
  readonly duty: Duty;
  /** The older work whose license asks for it. */
  readonly work: string;
  readonly license: string;
  /** The work through which it came, one step nearer; the audited one for what it came from directly. */
  readonly through: string;
}

/**
 * Everything that the licenses of older works ask of whoever passes this one on, each once for every work. What comes in
 * from further up stays: another ancestor never takes a duty away.
 */
export function dutiesOwed(graph: WorkGraph, work: Work, layers: readonly Layer[]): OwedDuty[] {
  const to = graph.license(work);
  const owed = new Map<string, OwedDuty>();
  for (const layer of layers) {
    const from = graph.license(layer.work);
    if (layer.own || from === null || to === null) continue;
    const { chosen } = layerVerdict(from, to, layer.level, work.published ?? true);
    const changed = layer.level === 'changed' || layer.level === 'plain';
    for (const duty of dutiesOf(from, chosen)) {
      if (duty.when === 'adapt' && !changed) continue;
      const key = `${layer.work.id} ${duty.kind} ${duty.when} ${duty.clause}`;
      if (!owed.has(key))
        owed.set(key, {
          duty,
          work: layer.work.id,
          license: layer.work.license ?? '',
          through: layer.before?.work.id ?? work.id,
        });
    }
  }
  return [...owed.values()];
}

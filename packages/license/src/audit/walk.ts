import type { Expression } from '../expression/tree.ts';
import { expressionText } from '../expression/tree.ts';
import type { WorkGraph } from './graph.ts';
import { layerVerdict } from './layer-verdict.ts';
import { unavoidable } from './duties-of.ts';
import { higher, levelOf, type Level } from './level.ts';
import type { PathStep } from './findings.ts';
import type { Link } from './link.ts';
import type { LicensePolicy, Work } from './works.ts';

/** An older work that is reached from the one audited, in one way. */
export interface Layer {
  readonly work: Work;
  readonly level: Level;
  /** The link that leads to it; null for the work audited. */
  readonly link: Link | null;
  /** An earlier letter, which is not a work of others to be judged on its own: its author moved on to the next. */
  readonly letter: boolean;
  /** The license of a work between took its place, as share-alike licenses provide. */
  readonly absorbed: boolean;
  /** An earlier letter of something that says by itself what it came from: what this one came from is no matter. */
  readonly restated: boolean;
  /** Only letters of the work itself lie between. */
  readonly own: boolean;
  readonly before: Layer | null;
}

interface State extends Layer {
  /** Whether a letter lies between after which a copy need no longer be one, or is none. */
  readonly revised: 'no' | 'perhaps' | 'yes';
}

/**
 * Everything that the work came from, nearest first. A work is told once for each way in which it can be held, of which
 * there is a handful, so the walk is linear in the lineage.
 */
export function walk(graph: WorkGraph, start: Work, policy: LicensePolicy): readonly Layer[] {
  const first: State = {
    work: start,
    level: 'none',
    link: null,
    letter: false,
    absorbed: false,
    restated: false,
    own: true,
    before: null,
    revised: 'no',
  };
  const queue = [first];
  const seen = new Set([keyOf(first)]);
  for (let at = 0; at < queue.length; at += 1) {
    const state = queue[at];
    for (const link of graph.older.get(state.work.id) ?? []) {
      const work = graph.works.get(link.to);
      if (work === undefined || (state.restated && link.relation !== 'revision')) continue;
      const next = step(graph, state, link, work, policy);
      const key = keyOf(next);
      if (seen.has(key)) continue;
      seen.add(key);
      queue.push(next);
    }
  }
  return queue;
}

function keyOf({ work, level, letter, absorbed, restated, own, revised }: State): string {
  return `${level} ${Number(letter)}${Number(absorbed)}${Number(restated)}${Number(own)}${revised} ${work.id}`;
}

function step(graph: WorkGraph, state: State, link: Link, work: Work, policy: LicensePolicy): State {
  const common = { work, link, before: state };
  if (link.relation === 'revision')
    return {
      ...common,
      level: state.level,
      letter: true,
      absorbed: state.absorbed,
      restated: state.restated || link.restated === true,
      own: state.own,
      revised: revisedBy(state, link),
    };
  const here = levelOf(link, policy);
  const since = { no: here, perhaps: higher('plain', here), yes: higher('changed', here) }[state.revised];
  const level = higher(state.level, here === 'copied' ? since : here);
  const absorbed = state.absorbed || (!state.own && takesPlace(graph, state.work, work, here));
  return { ...common, level, letter: false, absorbed, restated: false, own: false, revised: 'no' };
}

function revisedBy({ revised }: State, { shape }: Link): State['revised'] {
  if (shape === 'unchanged' || revised === 'yes') return revised;
  return shape === 'changed' || shape === 'restored' ? 'yes' : 'perhaps';
}

/** Whether the license of a work that came from another stands in for the other's from then on. */
export function takesPlace(
  graph: WorkGraph,
  newer: Pick<Work, 'license'>,
  older: Pick<Work, 'license'>,
  level: Level,
): boolean {
  const [from, to] = [graph.license(older), graph.license(newer)];
  if (from === null || to === null || older.license === newer.license) return false;
  return standsIn(from, to, level);
}

const known = new Map<string, boolean>();

function standsIn(from: Expression, to: Expression, level: Level): boolean {
  const key = `${level} ${expressionText(from)} > ${expressionText(to)}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const stands =
    unavoidable(from, 'same-license', ['adapt']) !== null &&
    layerVerdict(from, to, level, true).answer === 'permitted' &&
    level === 'changed';
  if (known.size < 10_000) known.set(key, stands);
  return stands;
}

/** The steps from the work audited to a layer. */
export function pathTo(layer: Layer): PathStep[] {
  const steps: PathStep[] = [];
  for (let at: Layer | null = layer; at !== null && at.link !== null; at = at.before)
    steps.push({ relation: at.link.relation, to: at.work.id });
  return steps.reverse();
}

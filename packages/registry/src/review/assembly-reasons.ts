import { judgeInterchange, reason, threadEngagement, type Reason } from '@kinprint/fit';
import type {
  AssemblyComparison,
  ClearanceChange,
  InterferenceChange,
  Mate,
  MixedPair,
} from '../assembly/types.ts';
import { mm, place } from '../check/words.ts';
import type { PartReview } from './types.ts';

/** Why parts that are put together no longer swap, and which parts it is about. */
export interface JointReason {
  readonly parts: readonly string[];
  readonly reason: Reason;
}

/** New interferences, and clearances that are no longer what was asked for. */
export function assemblyReasons(assembly: AssemblyComparison | null): JointReason[] {
  if (assembly === null) return [];
  return [
    ...(assembly.interferences ?? []).flatMap(interferenceReason),
    ...assembly.clearances.flatMap(clearanceReason),
    ...assembly.exchanges.map(mixedReason),
  ];
}

function interferenceReason({ a, b, change, before, after }: InterferenceChange): JointReason[] {
  if ((change !== 'new' && change !== 'grown') || after === null || after.intended) return [];
  const at =
    after.regions[0] === undefined ? '' : `, at ${place(after.regions[0].centroid_mm)} mm of the assembly`;
  const volume =
    change === 'grown' && before !== null
      ? `${mm(before.volume_mm3)} → ${mm(after.volume_mm3)}`
      : mm(after.volume_mm3);
  const text = `'${a}' and '${b}' claim the same space as they are placed: ${volume} mm³, ${mm(after.depth_mm)} mm deep${at}.`;
  return [{ parts: [partOf(a), partOf(b)], reason: reason('interference-new', text) }];
}

/** `clip` of `clip#2`. */
function partOf(instance: string): string {
  return instance.replace(/#\d+$/, '');
}

/** New for old, or old for new: one way is not enough. */
function mixedReason({ seat, takes, exchanged, clearance_mm, asked: range }: MixedPair): JointReason {
  const [one, other] =
    exchanged === 'seat'
      ? [`A new ${seat.kind} '${seat.interface}'`, `an old ${takes}`]
      : [`An old ${seat.kind} '${seat.interface}'`, `a new ${takes}`];
  const wanted = range === null ? '' : `, where ${mm(range.least_mm)} to ${mm(range.most_mm)} mm is asked`;
  return {
    parts: [seat.part, takes.split('/')[0]],
    reason: reason(
      'clearance-lost',
      `${one} does not go with ${other}, though each goes with its own: ${measuredAs[seat.kind]} would be ${mm(clearance_mm)} mm${wanted}.`,
    ),
  };
}

function clearanceReason({ seat, takes, crossed, line, before, after }: ClearanceChange): JointReason[] {
  if (after === null || before === null) return [];
  const parts = [seat.part, ...(after.takes.kind === 'hardware' ? [] : [after.takes.part])];
  const name = `The ${seat.kind} '${seat.interface}' and ${takes}`;
  const told = (text: string): JointReason => ({ parts, reason: reason('clearance-lost', text) });
  return [
    ...(crossed === 'left'
      ? [
          told(
            `${name}: ${after.declared === 'thread' ? threadWords(before, after) : `${measuredAs[seat.kind]} is ${clearance(before)} → ${clearance(after)}${asked(after)}`}.`,
          ),
        ]
      : []),
    ...(line === 'left'
      ? [told(`${name} ${seat.kind === 'face' ? 'no longer face each other' : 'are no longer in line'}.`)]
      : []),
  ];
}

const measuredAs = {
  bore: 'the clearance on the diameter',
  slot: 'the clearance on the width',
  face: 'the gap between them, as they are placed,',
} as const;

function clearance({ clearance_mm }: Mate): string {
  return clearance_mm === null ? 'not known' : `${mm(clearance_mm)} mm`;
}

/** `the hole is 2.50 → 2.80 mm; 92 % → 37 % of the thread's height take hold`. */
function threadWords(before: Mate, after: Mate): string {
  const hole = ({ seat: { measured_mm } }: Mate) => (measured_mm === null ? 'not known' : mm(measured_mm));
  const shares = [before, after].map(engaged);
  const held = shares.includes(null)
    ? ''
    : `; ${shares.map(share => `${Math.round(100 * (share ?? 0))} %`).join(' → ')} of the thread's height take hold`;
  return `the hole is ${hole(before)} → ${hole(after)} mm${held}`;
}

function engaged({ seat: { measured_mm }, takes, asked: range }: Mate): number | null {
  const across_mm = takes.kind === 'hardware' ? takes.across_mm : null;
  // Only of a metric thread a range is asked.
  return measured_mm === null || across_mm === null || range === null
    ? null
    : threadEngagement(across_mm, measured_mm);
}

function asked({ declared, asked: range }: Mate): string {
  if (range === null) return '';
  return declared === null
    ? `; ${range.source}`
    : `; '${declared}' asks for ${mm(range.least_mm)} to ${mm(range.most_mm)} mm`;
}

/** The part, with the reasons that it shares with others; of those, where some changed and others did not, the changed ones. */
export function withAssembly(part: PartReview, joint: readonly JointReason[]): PartReview {
  if (part.verdict === 'identical' || part.verdict === 'same-shape' || part.verdict === 'moved') return part;
  const own = joint.filter(({ parts }) => parts.includes(part.id)).map(each => each.reason);
  return own.length === 0
    ? part
    : { ...part, interchange: judgeInterchange([...part.interchange.reasons, ...own]) };
}

/** Parts that a part must be exchanged together with, as they are put together. */
export function jointParts(part: string, joint: readonly JointReason[]): string[] {
  return [
    ...new Set(joint.flatMap(({ parts }) => (parts.includes(part) ? parts.filter(id => id !== part) : []))),
  ];
}

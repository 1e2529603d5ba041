import { judgeClearance, threadEngagement, type Clearance, type Sized } from '@kinprint/fit';
import type { Interface, VariantDocument } from '@kinprint/manifest';
import { declaredMates, type DeclaredMate } from '../../assembly/declared-mates.ts';
import type { VariantState } from '../../state/types.ts';
import { checkDefaults } from '../defaults.ts';
import { inManifest, type Finding } from '../finding.ts';
import { mm } from '../words.ts';

/**
 * Bores and slots that do not take what they are said to mate: a pin or a tongue of another part, or what is bought. Judged
 * by the declared sizes, which other checks hold against the meshes. Faces have no size: `assembly.ts` judges them.
 */
export function clearanceFindings(variant: VariantState, manifest: VariantDocument): Finding[] {
  const judged = new Set<Interface>();
  return declaredMates(manifest).flatMap(({ seat, takes: mate, clearance: of }) => {
    const size = seat.face.kind === 'face' ? null : sizeOf(seat.face);
    const taken = whatItTakes(mate);
    // Of several pins the first with a size.
    if (size === null || taken === null || judged.has(seat.face)) return [];
    judged.add(seat.face);
    // What is driven into its hole is larger than it: only a declared clearance tells that it should not be.
    if (taken.kind === 'bought' && of === null) return [];
    const told = words(seat.face, taken, judgeClearance(size, taken.size, of, taken.metric), of);
    if (told === null) return [];
    const key = seat.face.clearance === undefined ? 'mates' : 'clearance';
    const path = ['parts', seat.partIndex, 'interfaces', seat.index, key];
    return [inManifest(variant, told.code, path, told.text, told.remedy, seat.part)];
  });
}

interface Taken {
  readonly kind: 'printed' | 'bought';
  readonly name: string;
  /** Whether it is a metric screw. */
  readonly metric: boolean;
  readonly size: Sized;
}

/** What goes into a bore or a slot; null where its size is not known. */
function whatItTakes(mate: DeclaredMate['takes']): Taken | null {
  if (mate.kind !== 'hardware') {
    const { part, face } = mate.at;
    const size = sizeOf(face);
    return size && { kind: 'printed', name: `the ${mate.kind} '${part}/${face.id}'`, metric: false, size };
  }
  const { item, across_mm, metric } = mate;
  if (across_mm === null) return null;
  const size = { nominal_mm: across_mm, plus_mm: 0, minus_mm: 0 };
  return {
    kind: 'bought',
    name: `the ${[item.size, `'${item.id}'`].filter(Boolean).join(' ')}`,
    metric,
    size,
  };
}

function sizeOf({ nominal_mm, tolerance_mm }: Interface): Sized | null {
  const usual = checkDefaults.interfaces.tolerance_mm;
  return nominal_mm === undefined
    ? null
    : { nominal_mm, plus_mm: tolerance_mm?.plus ?? usual, minus_mm: tolerance_mm?.minus ?? usual };
}

interface Told {
  readonly code: 'clearance-differs' | 'clearance-interference' | 'clearance-unknown';
  readonly text: string;
  readonly remedy: string;
}

function words(
  seat: Interface,
  { name, size, metric }: Taken,
  judged: Clearance,
  of: NonNullable<Interface['clearance']> | null,
): Told | null {
  const pair = `The ${seat.kind} '${seat.id}' of ${mm(seat.nominal_mm ?? 0)} mm and ${name} of ${mm(size.nominal_mm)} mm`;
  const across = seat.kind === 'slot' ? 'width' : 'diameter';
  const range = `${mm(judged.least_mm)} to ${mm(judged.most_mm)} mm with both tolerances`;
  switch (judged.verdict) {
    case 'interference':
      return {
        code: 'clearance-interference',
        text: `${pair} do not go together: the clearance is ${mm(judged.nominal_mm)} mm on the ${across}.`,
        remedy: 'Correct one of the two sizes, or declare the clearance that is meant.',
      };
    case 'tighter':
    case 'looser': {
      const { asked } = judged;
      if (of === 'thread') {
        const hole = seat.kind === 'slot' ? 'slot' : 'hole';
        const holds = metric ? threadEngagement(size.nominal_mm, seat.nominal_mm ?? 0) : null;
        return {
          code: 'clearance-differs',
          text:
            judged.verdict === 'tighter'
              ? `${pair}: the ${hole} is narrower than the core of the screw${tabled(asked)}.`
              : `${pair}: the ${hole} is too wide for the thread to take hold${tabled(asked)}${holds === null ? '' : `; ${percent(holds)} of the thread's height would`}.`,
          remedy: 'Correct one of the two sizes, or declare the clearance that is meant.',
        };
      }
      const wanted =
        asked === null
          ? ''
          : ` '${of ?? ''}' asks for ${mm(asked.least_mm)} to ${mm(asked.most_mm)} mm (${asked.source}).`;
      return {
        code: 'clearance-differs',
        text: `${pair} go together ${judged.verdict} than declared: the clearance is ${mm(judged.nominal_mm)} mm on the ${across}, ${range}.${wanted}`,
        remedy: 'Correct one of the two sizes, or declare the clearance that is meant.',
      };
    }
    case 'unknown':
      return of === null || of === 'thread'
        ? null
        : {
            code: 'clearance-unknown',
            text: `${pair}: what '${of}' asks for at this size is in no table at hand. The clearance is ${mm(judged.nominal_mm)} mm on the ${across}, ${range}.`,
            remedy: 'Judge it by hand.',
          };
    case 'as-asked':
      return null;
  }
}

/** Where the limits come from, in parentheses. */
function tabled(asked: Clearance['asked']): string {
  return asked === null ? '' : ` (${asked.source})`;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

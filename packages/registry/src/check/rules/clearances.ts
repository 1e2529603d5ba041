import { judgeClearance, threadDiameter, type Clearance, type Sized } from '@kinprint/fit';
import type { Interface, VariantDocument } from '@kinprint/manifest';
import type { VariantState } from '../../state/types.ts';
import { checkDefaults } from '../defaults.ts';
import { inManifest, type Finding } from '../finding.ts';
import { mm } from '../words.ts';

/**
 * Bores that do not take what they are said to mate: a pin of another part, or a screw. Judged by the declared sizes, which
 * other checks hold against the meshes.
 */
export function clearanceFindings(variant: VariantState, manifest: VariantDocument): Finding[] {
  return manifest.parts.flatMap((part, k) =>
    (part.interfaces ?? []).flatMap((bore, i) => {
      const size = sizeOf(bore);
      const taken = bore.kind === 'bore' ? whatItTakes(manifest, part.id, bore) : null;
      if (size === null || taken === null) return [];
      const of = bore.clearance ?? taken.clearance ?? null;
      // What is driven into its hole is larger than it: only a declared clearance tells that it should not be.
      if (taken.kind === 'screw' && of === null) return [];
      const judged = judgeClearance(size, taken.size, of);
      const told = words(bore, taken, judged, of);
      if (told === null) return [];
      const key = bore.clearance === undefined ? 'mates' : 'clearance';
      const path = ['parts', k, 'interfaces', i, key];
      return [inManifest(variant, told.code, path, told.text, told.remedy, part.id)];
    }),
  );
}

interface Taken {
  readonly kind: 'pin' | 'screw';
  readonly name: string;
  readonly size: Sized;
  readonly clearance: Interface['clearance'];
}

/** The pin or the screw in a bore: what it mates, or what says that it mates the bore. */
function whatItTakes(manifest: VariantDocument, part: string, bore: Interface): Taken | null {
  const own = `${part}/${bore.id}`;
  for (const other of manifest.parts)
    for (const pin of other.interfaces ?? []) {
      const size = pin.kind === 'pin' ? sizeOf(pin) : null;
      const name = `${other.id}/${pin.id}`;
      if (size === null || (bore.mates !== name && pin.mates !== own)) continue;
      return { kind: 'pin', name: `the pin '${name}'`, size, clearance: pin.clearance };
    }
  const item = (manifest.hardware ?? []).find(({ id }) => bore.mates === `hardware/${id}`);
  const thread = item?.size === undefined ? null : threadDiameter(item.size);
  if (item === undefined || thread === null) return null;
  const size = { nominal_mm: thread, plus_mm: 0, minus_mm: 0 };
  return { kind: 'screw', name: `the ${item.size ?? ''} '${item.id}'`, size, clearance: undefined };
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
  bore: Interface,
  { name, size }: Taken,
  judged: Clearance,
  of: NonNullable<Interface['clearance']> | null,
): Told | null {
  const pair = `The bore '${bore.id}' of ${mm(bore.nominal_mm ?? 0)} mm and ${name} of ${mm(size.nominal_mm)} mm`;
  const range = `${mm(judged.least_mm)} to ${mm(judged.most_mm)} mm with both tolerances`;
  switch (judged.verdict) {
    case 'interference':
      return {
        code: 'clearance-interference',
        text: `${pair} do not go together: the clearance is ${mm(judged.nominal_mm)} mm on the diameter.`,
        remedy: 'Correct one of the two sizes, or declare the clearance that is meant.',
      };
    case 'tighter':
    case 'looser': {
      const { asked } = judged;
      const wanted =
        asked === null
          ? ''
          : ` '${of ?? ''}' asks for ${mm(asked.least_mm)} to ${mm(asked.most_mm)} mm (${asked.source}).`;
      return {
        code: 'clearance-differs',
        text: `${pair} go together ${judged.verdict} than declared: the clearance is ${mm(judged.nominal_mm)} mm on the diameter, ${range}.${wanted}`,
        remedy: 'Correct one of the two sizes, or declare the clearance that is meant.',
      };
    }
    case 'unknown':
      return of === null || of === 'thread'
        ? null
        : {
            code: 'clearance-unknown',
            text: `${pair}: what '${of}' asks for at this size is in no table at hand. The clearance is ${mm(judged.nominal_mm)} mm on the diameter, ${range}.`,
            remedy: 'Judge it by hand.',
          };
    case 'as-asked':
      return null;
  }
}

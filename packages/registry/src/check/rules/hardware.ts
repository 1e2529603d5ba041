import type { VariantDocument } from '@kinprint/manifest';
import type { HardwareRows, StrayBores } from '../../assembly/types.ts';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type DocumentPath, type Finding } from '../finding.ts';
import { mm } from '../words.ts';

/** Bores of one screw that are not in line, and more rows of bores than screws, or fewer bores than screws. */
export function hardwareFindings(
  variant: VariantState,
  manifest: VariantDocument,
  rows: HardwareRows,
): Finding[] {
  const { hardware, quantity, needed, bores, complete, strays } = rows;
  if (strays.length > 0) return [stray(variant, manifest, rows)];
  const k = (manifest.hardware ?? []).findIndex(({ id }) => id === hardware);
  const path = ['hardware', k, 'quantity'];
  if (needed > quantity)
    return [
      inManifest(
        variant,
        'hardware-short',
        path,
        `The placed bores for '${hardware}' need ${needed} of it, one for each row of bores in line; ${quantity} ${quantity === 1 ? 'is' : 'are'} to be bought.`,
        'Correct the quantity, or what the bores mate.',
      ),
    ];
  if (complete && quantity > bores)
    return [
      inManifest(
        variant,
        'hardware-to-spare',
        path,
        `${quantity} of '${hardware}' are to be bought, and ${bores === 1 ? 'one bore takes' : `${bores} bores take`} it.`,
        'Declare the other bores that take it, or correct the quantity; pieces to spare do no harm.',
      ),
    ];
  return [];
}

/** Of several pairs that miss each other the worst is told, at the bore that is named first. */
function stray(
  variant: VariantState,
  { parts }: VariantDocument,
  { hardware, quantity, strays }: HardwareRows,
): Finding {
  const off = ({ offset_mm, angle_deg }: StrayBores) => offset_mm + angle_deg;
  const worst = strays.reduce((one, other) => (off(other) > off(one) ? other : one));
  const { a, b, offset_mm, angle_deg } = worst;
  const same = quantity === 1 ? `for the same '${hardware}'` : `for one '${hardware}'`;
  const more =
    strays.length === 1
      ? ''
      : ` ${strays.length - 1} more ${strays.length === 2 ? 'pair is' : 'pairs are'} not either.`;
  return inManifest(
    variant,
    'mates-out-of-line',
    matesPath(parts, a.part, a.interface),
    `As they are placed, the bore '${a.instance}/${a.interface}' and the bore '${b.instance}/${b.interface}' ${same} are not in line: their axes are ${mm(offset_mm)} mm apart and ${angle_deg.toFixed(1)}° askew.${more}`,
    'Correct the placement of one of the two parts, or the mesh.',
    a.part,
  );
}

/** Where an interface says what it mates. */
export function matesPath(parts: VariantDocument['parts'], part: string, id: string): DocumentPath {
  const k = parts.findIndex(one => one.id === part);
  const i = (parts[k]?.interfaces ?? []).findIndex(face => face.id === id);
  return ['parts', k, 'interfaces', i, 'mates'];
}

import type { VariantDocument } from '@kinprint/manifest';
import type { AssemblyReport, Mate, MateLine, PlacedInterference } from '../../assembly/types.ts';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type DocumentPath, type Finding } from '../finding.ts';
import { listing, mm, place } from '../words.ts';

/** Placed parts that claim the same space, and mates whose axes do not lie in line. */
export function assemblyFindings(
  variant: VariantState,
  manifest: VariantDocument,
  report: AssemblyReport,
): Finding[] {
  const meant = (report.interferences ?? []).filter(({ intended }) => !intended);
  return [
    ...meant.map(interference => interfering(variant, report, interference)),
    ...report.mates.flatMap(mate => outOfLine(variant, manifest, mate)),
    ...report.notes.flatMap(({ code, text }) =>
      // Meshes without a volume are told with the meshes.
      code === 'assembly-not-a-solid'
        ? []
        : [
            inManifest(
              variant,
              'assembly-unchecked',
              ['assembly'],
              text,
              'Look at it in a modeling program.',
            ),
          ],
    ),
  ];
}

function interfering(
  variant: VariantState,
  { placed }: AssemblyReport,
  { a, b, volume_mm3, depth_mm, regions }: PlacedInterference,
): Finding {
  const second = placed.find(({ name }) => name === b);
  const path: DocumentPath = second === undefined ? ['assembly'] : ['assembly', second.placement, 'part'];
  const places = listing(
    regions.map(({ centroid_mm }) => place(centroid_mm)),
    3,
  );
  return inManifest(
    variant,
    'parts-interfere',
    path,
    `'${a}' and '${b}' claim the same space as they are placed: ${mm(volume_mm3)} mm³, up to ${mm(depth_mm)} mm deep, at ${places} mm.`,
    'Correct the placement or one of the meshes; where one is pressed into the other, declare their pin and bore with clearance: press.',
    second?.part ?? null,
  );
}

function outOfLine(variant: VariantState, manifest: VariantDocument, mate: Mate): Finding[] {
  const { bore, takes } = mate;
  const lines = mate.lines.filter(line => !line.in_line && concerns(manifest, mate, line));
  if (lines.length === 0) return [];
  const worst = lines.reduce((a, b) => (off(b) > off(a) ? b : a));
  const other = `'${worst.other}/${worst.other_interface}'`;
  const what =
    takes.kind === 'pin' ? `the pin ${other}` : `the bore ${other} for the same '${takes.hardware}'`;
  const gap = worst.overlap_mm;
  const apart =
    takes.kind === 'pin' && gap <= 0
      ? `they share no length of their axes, which end ${mm(-gap)} mm apart`
      : `their axes are ${mm(worst.offset_mm)} mm apart and ${worst.angle_deg.toFixed(1)}° askew`;
  return [
    inManifest(
      variant,
      'mates-out-of-line',
      declaredAt(manifest, mate),
      `As they are placed, the bore '${worst.bore}/${bore.interface}' and ${what} are not in line: ${apart}.`,
      'Correct the placement of one of the two parts, or the mesh.',
      bore.part,
    ),
  ];
}

/** Of several equal screws nobody says which goes through which bores; and two bores of one are told once. */
function concerns(
  { parts, hardware = [] }: VariantDocument,
  { bore, takes }: Mate,
  { other }: MateLine,
): boolean {
  if (takes.kind === 'pin') return true;
  if (hardware.find(({ id }) => id === takes.hardware)?.quantity !== 1) return false;
  const indexOf = (part: string) => parts.findIndex(({ id }) => id === part);
  return indexOf(bore.part) < indexOf(other.split('#')[0]);
}

function off({ offset_mm, angle_deg, overlap_mm }: MateLine): number {
  return offset_mm + angle_deg + Math.max(0, -overlap_mm);
}

/** Where the two are declared to mate: at the bore, or at the pin that says so. */
function declaredAt({ parts }: VariantDocument, { bore, takes }: Mate): DocumentPath {
  const at = (part: string, id: string): DocumentPath => {
    const k = parts.findIndex(one => one.id === part);
    const i = (parts[k]?.interfaces ?? []).findIndex(face => face.id === id);
    return ['parts', k, 'interfaces', i, 'mates'];
  };
  const own = parts
    .find(({ id }) => id === bore.part)
    ?.interfaces?.find(({ id }) => id === bore.interface)?.mates;
  return own === undefined && takes.kind === 'pin'
    ? at(takes.part, takes.interface)
    : at(bore.part, bore.interface);
}

import type { VariantDocument } from '@kinprint/manifest';
import { assemblyDefaults } from '../../assembly/defaults.ts';
import type { AssemblyReport, Mate, MateLine, PlacedInterference } from '../../assembly/types.ts';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type DocumentPath, type Finding } from '../finding.ts';
import { listing, mm, place } from '../words.ts';
import { hardwareFindings, matesPath } from './hardware.ts';

/** Placed parts that claim the same space, mates that do not lie in line, and faces that do not touch. */
export function assemblyFindings(
  variant: VariantState,
  manifest: VariantDocument,
  report: AssemblyReport,
): Finding[] {
  const meant = (report.interferences ?? []).filter(({ intended }) => !intended);
  return [
    ...meant.map(interference => interfering(variant, report, interference)),
    ...report.mates.flatMap(mate => [
      ...outOfLine(variant, manifest, mate),
      ...apart(variant, manifest, mate),
    ]),
    ...report.hardware.flatMap(rows => hardwareFindings(variant, manifest, rows)),
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

/** Faces that are to touch, or to stand at a declared gap, and do not. What overlaps is found as an interference. */
function apart(variant: VariantState, manifest: VariantDocument, mate: Mate): Finding[] {
  const { seat, takes, verdict, clearance_mm, asked, declared } = mate;
  if (seat.kind !== 'face' || takes.kind !== 'face' || clearance_mm === null || asked === null) return [];
  if (verdict !== 'looser' && verdict !== 'tighter') return [];
  const range = `${mm(asked.least_mm)} to ${mm(asked.most_mm)} mm (${asked.source})`;
  const wanted = declared === null ? `They mate: ${range}.` : `'${declared}' asks for ${range}.`;
  return [
    inManifest(
      variant,
      'clearance-differs',
      declaredAt(manifest, mate),
      `As they are placed, the faces '${seat.part}/${seat.interface}' and '${takes.part}/${takes.interface}' are ${mm(clearance_mm)} mm apart. ${wanted}`,
      'Correct the placement, one of the meshes, or declare the clearance that is meant.',
      seat.part,
    ),
  ];
}

function outOfLine(variant: VariantState, manifest: VariantDocument, mate: Mate): Finding[] {
  const { seat, takes } = mate;
  if (takes.kind === 'hardware' && (seat.kind === 'bore' || !isAlone(manifest, takes.hardware))) return [];
  const lines = mate.lines.filter(line => !line.in_line);
  if (lines.length === 0) return [];
  const worst = lines.reduce((a, b) => (off(b) > off(a) ? b : a));
  const other = `'${worst.other}/${worst.other_interface}'`;
  const what =
    takes.kind === 'hardware'
      ? `the bore ${other} for the same '${takes.hardware}'`
      : `the ${takes.kind} ${other}`;
  return [
    inManifest(
      variant,
      'mates-out-of-line',
      declaredAt(manifest, mate),
      `As they are placed, the ${seat.kind} '${worst.seat}/${seat.interface}' and ${what} ${standing(mate, worst)}.`,
      'Correct the placement of one of the two parts, or the mesh.',
      seat.part,
    ),
  ];
}

function standing({ seat, takes }: Mate, { offset_mm, angle_deg, overlap_mm }: MateLine): string {
  const askew = `${angle_deg.toFixed(1)}° askew`;
  if (seat.kind === 'face')
    return angle_deg > assemblyDefaults.angle_deg
      ? `do not face each other: they are ${askew}`
      : 'do not face each other';
  if (takes.kind !== 'hardware' && overlap_mm !== null && overlap_mm <= 0)
    return `are not in line: they share no length of their axes, which end ${mm(-overlap_mm)} mm apart`;
  return seat.kind === 'bore'
    ? `are not in line: their axes are ${mm(offset_mm)} mm apart and ${askew}`
    : `are not in line: their middles are ${mm(offset_mm)} mm apart across the slot and ${askew}`;
}

/** Of several equal screws nobody says which goes through which slot. */
function isAlone({ hardware = [] }: VariantDocument, id: string): boolean {
  return hardware.find(item => item.id === id)?.quantity === 1;
}

function off({ offset_mm, angle_deg, overlap_mm }: MateLine): number {
  return Math.abs(offset_mm) + angle_deg + Math.max(0, -(overlap_mm ?? 0));
}

/** Where the two are declared to mate: at the seat, or at the other that says so. */
function declaredAt({ parts }: VariantDocument, { seat, takes }: Mate): DocumentPath {
  const own = parts
    .find(({ id }) => id === seat.part)
    ?.interfaces?.find(({ id }) => id === seat.interface)?.mates;
  return takes.kind !== 'hardware' && own !== `${takes.part}/${takes.interface}`
    ? matesPath(parts, takes.part, takes.interface)
    : matesPath(parts, seat.part, seat.interface);
}

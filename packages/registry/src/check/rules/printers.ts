import type { RegistryDocument, VariantDocument } from '@kinprint/manifest';
import type { Vec3 } from '@kinprint/mesh';
import type { VariantState } from '../../state/types.ts';
import type { PartLook } from '../facts.ts';
import { inManifest, type Finding } from '../finding.ts';
import { listing, mm } from '../words.ts';
import { rectangleFits } from './rectangle.ts';

type Printer = NonNullable<RegistryDocument['printers']>[number];

/**
 * Parts that fit on no listed printer as they are to be printed. It is the box around the part that is placed, turned
 * about the vertical as far as need be; a part may fit where its box does not, so such a part should be stored turned.
 */
export function printerFindings(
  variant: VariantState,
  manifest: VariantDocument,
  registry: RegistryDocument | null,
  looks: readonly (PartLook | null)[],
): Finding[] {
  const printers = registry?.printers ?? [];
  if (printers.length === 0) return [];
  return manifest.parts.flatMap((part, k) => {
    const look = looks[k];
    if (look?.state !== 'measured' || look.facts.bounds_mm === null) return [];
    const { size } = look.facts.bounds_mm;
    const up = part.print?.up ?? 'z';
    if (printers.some(printer => partFits(size, up, printer))) return [];
    const others = (['x', 'y', 'z'] as const)
      .filter(axis => axis !== up.slice(-1))
      .flatMap(axis =>
        printers.filter(printer => partFits(size, axis, printer)).map(({ id }) => ({ axis, id })),
      );
    const where = part.print?.up === undefined ? ['parts', k, 'mesh'] : ['parts', k, 'print', 'up'];
    const volumes = printers.map(({ id, build_volume_mm: v }) => `'${id}' (${v.map(mm).join(' × ')})`);
    return [
      inManifest(
        variant,
        'part-too-large',
        where,
        `With ${up} up the part is ${size.map(mm).join(' × ')} mm along x, y and z; it fits on no listed printer: ${listing(volumes)}.`,
        others.length > 0
          ? `With up: ${others[0].axis} it fits on ${listing(others.filter(o => o.axis === others[0].axis).map(o => `'${o.id}'`))}.`
          : 'Split the part, or list a printer that is large enough.',
        part.id,
      ),
    ];
  });
}

/** Whether the box around a part fits, standing as `up` says, turned about the vertical. */
export function partFits(
  size: Vec3,
  up: string,
  { build_volume_mm: volume }: Pick<Printer, 'build_volume_mm'>,
): boolean {
  const vertical = 'xyz'.indexOf(up.slice(-1));
  const [p, q] = size.filter((_, axis) => axis !== vertical);
  return size[vertical as 0 | 1 | 2] <= volume[2] && rectangleFits(p, q, volume[0], volume[1]);
}

import type { Interface, Part, Placement, PrintSettings, VariantDocument } from '@kinprint/manifest';
import { InputError, transformMesh, writeStlBinary, type Affine, type Vec3 } from '@kinprint/mesh';
import type { Derived, DerivedFile, Parent } from './derive.ts';
import { freePath } from './free-path.ts';
import { wholeMesh } from '../work/whole-mesh.ts';

/** What is done to every part: mirrored across x = 0, or scaled about the origin. */
export type Change = { readonly kind: 'mirror' } | { readonly kind: 'rescale'; readonly scale: number };

/**
 * Carries a derived variant through a mirroring or a scaling: meshes, the places of interfaces and parts, hands, the
 * body measure. Meshes become binary STL in millimeters. Editable models are left behind, as they show the other
 * shape. What is held at its size (bought hardware does not grow) is marked for a person to settle.
 *
 * @throws InputError what keeps a mesh from being read
 */
export async function transformVariant(derived: Derived, parent: Parent, change: Change): Promise<Derived> {
  const files: DerivedFile[] = [];
  const parts: Part[] = [];
  const unsettled = [...derived.unsettled];
  const moved = new Map<string, string>();
  const left = new Set<string>();
  const taken = new Set(derived.files.map(file => file.path));
  for (const part of derived.manifest.parts) {
    const source = derived.files.find(file => file.path === part.mesh);
    if (source?.kind !== 'copy')
      throw new InputError('mesh-missing', `The mesh of '${part.id}' is missing.`, 'Run kinprint check.', {
        file: `${parent.content.folder}/${part.mesh}`,
      });
    const mesh = moved.get(part.mesh) ?? stlName(part.mesh, taken);
    taken.add(mesh);
    if (!moved.has(part.mesh)) {
      files.push({ kind: 'bytes', path: mesh, bytes: await carriedMesh(parent, source.from, part, change) });
      if (!isStl(part.mesh))
        unsettled.push(
          `${part.mesh} became ${mesh}: a binary STL holds the shape alone, no colors or names.`,
        );
      moved.set(part.mesh, mesh);
    }
    for (const model of part.source ?? []) left.add(model);
    const carried = carriedPart(part, mesh, change);
    if (carried.unsettled !== undefined) unsettled.push(`${part.id}: ${carried.unsettled}`);
    parts.push(carried);
  }
  for (const file of derived.files) {
    if (moved.has(file.path) || left.has(file.path)) continue;
    if (file.path.startsWith('source/')) left.add(file.path);
    else files.push(file);
  }
  if (left.size > 0)
    unsettled.push(`Editable models were left behind: they show the shape of ${parent.address}.`);
  const comments: Record<string, string> = { ...derived.comments };
  if (derived.manifest.fit !== undefined && change.kind === 'rescale') {
    comments['/fit'] = 'Scaled along with the parts; a person must try whether it fits so.';
    unsettled.push('fit: the body measure was scaled along; try whether it fits so.');
  }
  return { manifest: carriedManifest(derived.manifest, parts, change), comments, files, unsettled };
}

async function carriedMesh(parent: Parent, path: string, part: Part, change: Change): Promise<Uint8Array> {
  const ref = parent.content.refs.find(item => item.path === path);
  if (ref === undefined)
    throw new InputError('mesh-missing', 'The file is missing.', 'Run kinprint check.', { file: path });
  try {
    const source = await parent.content.files.open(ref);
    const whole = wholeMesh(source, part.unit === undefined ? {} : { unit: part.unit });
    return writeStlBinary(transformMesh(whole, matrixOf(change)));
  } catch (error) {
    throw error instanceof InputError ? error.inFile(path) : error;
  }
}

function matrixOf(change: Change): Affine {
  const [x, s] = change.kind === 'mirror' ? [-1, 1] : [change.scale, change.scale];
  return [
    [x, 0, 0, 0],
    [0, s, 0, 0],
    [0, 0, s, 0],
    [0, 0, 0, 1],
  ];
}

function carriedPart(part: Part, mesh: string, change: Change): Part {
  const { unit: _unit, source: _source, ...rest } = part;
  const held = (part.interfaces ?? []).filter(item => item.scale === 'hold');
  const print = part.print === undefined ? undefined : carriedPrint(part.print, change);
  const interfaces = part.interfaces?.map(item => carriedInterface(item, change));
  return {
    ...rest,
    mesh,
    ...(part.hand === undefined || change.kind === 'rescale' ? {} : { hand: otherHand[part.hand] }),
    ...(print === undefined ? {} : { print }),
    ...(interfaces === undefined ? {} : { interfaces }),
    ...(held.length > 0 && change.kind === 'rescale'
      ? {
          unsettled:
            `${held.map(item => item.id).join(', ')}: held at size, but scaled with the part; bring back to size.`.slice(
              0,
              200,
            ),
        }
      : {}),
  };
}

const otherHand = { left: 'right', right: 'left', both: 'both' } as const;

/** Places and sizes as they are after the change; what is held keeps the size that is wanted. */
function carriedInterface(item: Interface, change: Change): Interface {
  const scale = change.kind === 'mirror' ? 1 : change.scale;
  const grows = item.scale !== 'hold' && item.nominal_mm !== undefined && change.kind === 'rescale';
  return {
    ...item,
    ...(grows ? { nominal_mm: rounded((item.nominal_mm ?? 0) * scale) } : {}),
    ...(item.at_mm === undefined ? {} : { at_mm: carriedPoint(item.at_mm, change) }),
    ...(item.axis === undefined || change.kind === 'rescale' ? {} : { axis: mirrored(item.axis) }),
  };
}

function carriedPrint(print: PrintSettings, change: Change): PrintSettings {
  if (change.kind === 'rescale' || print.up === undefined) return print;
  const up = print.up === 'x' ? '-x' : print.up === '-x' ? 'x' : print.up;
  return { ...print, up };
}

function carriedPoint(point: Vec3, change: Change): Vec3 {
  if (change.kind === 'mirror') return mirrored(point);
  const [x, y, z] = point;
  return [rounded(x * change.scale), rounded(y * change.scale), rounded(z * change.scale)];
}

function mirrored([x, y, z]: Vec3): Vec3 {
  return [x === 0 ? 0 : -x, y, z];
}

/**
 * A placement `p ↦ R p + t` of mirrored parts in a mirrored assembly: `M (R (M p) + t)`. M R M turns about the mirrored
 * axis the other way, which is the same as the axis with y and z turned around and the angle kept.
 */
function carriedPlacement(placement: Placement, change: Change): Placement {
  const { translate_mm, rotate } = placement;
  return {
    ...placement,
    ...(translate_mm === undefined ? {} : { translate_mm: carriedPoint(translate_mm, change) }),
    ...(rotate === undefined || change.kind === 'rescale'
      ? {}
      : { rotate: { axis: turnedAxis(rotate.axis), degrees: rotate.degrees } }),
  };
}

function turnedAxis([x, y, z]: Vec3): Vec3 {
  return [x, y === 0 ? 0 : -y, z === 0 ? 0 : -z];
}

function carriedManifest(manifest: VariantDocument, parts: readonly Part[], change: Change): VariantDocument {
  const { fit, assembly } = manifest;
  return {
    ...manifest,
    parts,
    ...(assembly === undefined ? {} : { assembly: assembly.map(item => carriedPlacement(item, change)) }),
    ...(fit === undefined || change.kind === 'mirror'
      ? {}
      : {
          fit: {
            ...fit,
            base_mm: rounded(fit.base_mm * change.scale),
            ...(fit.scales === undefined
              ? {}
              : {
                  scales: {
                    ...fit.scales,
                    least: rounded(fit.scales.least / change.scale),
                    most: rounded(fit.scales.most / change.scale),
                  },
                }),
          },
        }),
  };
}

/** Products of decimals without the noise of binary fractions. */
function rounded(value: number): number {
  return Number(value.toPrecision(12));
}

function isStl(path: string): boolean {
  return /\.stl$/i.test(path);
}

/** An STL keeps its name; another mesh gets one that no file has, of those that were there and those made so far. */
function stlName(path: string, taken: ReadonlySet<string>): string {
  return isStl(path) ? path : freePath(`${path.replace(/\.[^./]*$/, '')}.stl`, taken);
}

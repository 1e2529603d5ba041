import { bodyMeshes } from '@kinprint/compare';
import { area, fingerprint, fingerprintValues, type Fingerprint, type Mesh } from '@kinprint/mesh';
import { kinDefaults } from './kin-defaults.ts';

/** A fingerprint as JSON keeps it. */
export interface PlainPrint {
  readonly values: readonly number[];
  readonly solid: boolean;
  readonly size_mm: number;
}

/** The fingerprints of a mesh file: of the whole, and of each body by itself where it holds several. */
export interface MeshPrints {
  /** null when the mesh has no area. */
  readonly whole: PlainPrint | null;
  /** `body` counts as `bodies(mesh)` does. Bodies with hardly any of the area are left out. */
  readonly bodies: readonly { readonly body: number; readonly print: PlainPrint }[];
}

export function meshPrints(mesh: Mesh): MeshPrints {
  const whole = fingerprint(mesh);
  if (whole === null) return { whole: null, bodies: [] };
  const meshes = bodyMeshes(mesh);
  const least = kinDefaults.bodyShare * area(mesh);
  const bodies =
    meshes.length < 2 || meshes.length > kinDefaults.bodies
      ? []
      : meshes.flatMap((one, body) => {
          const print = area(one) < least ? null : fingerprint(one);
          return print === null ? [] : [{ body, print: plain(print) }];
        });
  return { whole: plain(whole), bodies };
}

function plain({ values, solid, size_mm }: Fingerprint): PlainPrint {
  return { values: [...values], solid, size_mm };
}

export function printOf({ values, solid, size_mm }: PlainPrint): Fingerprint {
  return { values: Float32Array.from(values), solid, size_mm };
}

/** Whether what a cache holds has the form of fingerprints. */
export function isMeshPrints(value: unknown): value is MeshPrints {
  if (typeof value !== 'object' || value === null || !('whole' in value) || !('bodies' in value))
    return false;
  const { whole, bodies } = value;
  return (
    (whole === null || isPrint(whole)) &&
    Array.isArray(bodies) &&
    bodies.every((item: unknown) => {
      if (typeof item !== 'object' || item === null || !('body' in item) || !('print' in item)) return false;
      return Number.isSafeInteger(item.body) && isPrint(item.print);
    })
  );
}

function isPrint(value: unknown): value is PlainPrint {
  if (typeof value !== 'object' || value === null) return false;
  if (!('values' in value) || !('solid' in value) || !('size_mm' in value)) return false;
  const { values, solid, size_mm } = value;
  return (
    Array.isArray(values) &&
    values.length === fingerprintValues &&
    values.every(Number.isFinite) &&
    typeof solid === 'boolean' &&
    typeof size_mm === 'number'
  );
}

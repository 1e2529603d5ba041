import type { Interface, Part, VariantDocument } from '@kinprint/manifest';
import type { Plane, Vec3 } from '@kinprint/mesh';
import type { VariantState } from '../../state/types.ts';
import { checkDefaults } from '../defaults.ts';
import type { PartLook } from '../facts.ts';
import { inManifest, type DocumentPath, type Finding } from '../finding.ts';
import { mm, place } from '../words.ts';
import { judgeInterfaces } from './judge-interface.ts';
import type { Measured, Verdict } from './verdict.ts';

/**
 * Where the planes of a part must be looked at closer: the declared places of its faces, slots and tongues, if the largest planes
 * of the mesh do not already have them; null where nothing must.
 */
export function planesWanted({ interfaces = [] }: Part, look: PartLook | null | undefined): Vec3[] | null {
  const flat = interfaces.filter(({ kind }) => kind === 'face' || kind === 'slot' || kind === 'tongue');
  if (look?.state !== 'measured' || flat.length === 0) return null;
  const verdicts = judgeInterfaces(flat, look.facts);
  if (verdicts.every(({ state }) => state === 'fits')) return null;
  return flat.flatMap(({ at_mm }) => (at_mm === undefined ? [] : [at_mm]));
}

/**
 * Declared interfaces that the mesh does not have, or has at another size.
 *
 * @param planes what a closer look found at the places that `planesWanted` gave, by part
 */
export function interfaceFindings(
  variant: VariantState,
  manifest: VariantDocument,
  looks: readonly (PartLook | null)[],
  planes: readonly (readonly Plane[] | null)[],
): Finding[] {
  return manifest.parts.flatMap((part, k) => {
    const look = looks[k];
    const { interfaces = [] } = part;
    if (look?.state !== 'measured' || interfaces.length === 0) return [];
    return judgeInterfaces(interfaces, look.facts, planes[k] ?? null).flatMap((verdict, i) => {
      const found = told(interfaces[i], verdict);
      if (found === null) return [];
      const key: DocumentPath = interfaces[i].nominal_mm === undefined ? ['id'] : ['nominal_mm'];
      const path = ['parts', k, 'interfaces', i, ...key];
      return [inManifest(variant, found.code, path, found.text, found.remedy, part.id)];
    });
  });
}

interface Told {
  readonly code: 'interface-differs' | 'interface-facets' | 'interface-missing' | 'interface-unchecked';
  readonly text: string;
  readonly remedy: string;
}

function told(face: Interface, verdict: Verdict): Told | null {
  const name = `The ${face.kind} '${face.id}'`;
  const declared = face.nominal_mm === undefined ? '' : ` of ${mm(face.nominal_mm)} mm`;
  switch (verdict.state) {
    case 'fits':
      return null;
    case 'differs':
      return face.kind === 'face'
        ? {
            code: 'interface-differs',
            text: `${name} lies ${mm(verdict.measured.size_mm)} mm off its declared place.`,
            remedy: 'Correct at_mm in the manifest, or the mesh.',
          }
        : {
            code: 'interface-differs',
            text: `${name} is declared ${mm(face.nominal_mm ?? 0)} mm${allowed(face)} and measured ${sizes(face, verdict.measured)}, at ${place(verdict.measured.at_mm)} mm.`,
            remedy: 'Correct the manifest or the mesh, or state the tolerance_mm that the interface bears.',
          };
    case 'facets':
      return {
        code: 'interface-facets',
        text: `${name} has its declared ${mm(face.nominal_mm ?? 0)} mm only ${face.kind === 'bore' ? 'through its corners' : 'across its flats'}: measured ${sizes(face, verdict.measured)}, at ${place(verdict.measured.at_mm)} mm.`,
        remedy: 'Export the mesh with finer facets, or correct the size in the model.',
      };
    case 'missing': {
      const count = face.count ?? 1;
      const few =
        count > 1 ? `${verdict.found} of ${count} such features were found` : 'the mesh has none such';
      const nearest =
        verdict.nearest === null
          ? ` It has no other ${face.kind}.`
          : ` The nearest other ${face.kind} measures ${sizes(face, verdict.nearest)}, at ${place(verdict.nearest.at_mm)} mm${verdict.nearest.off_mm === null ? '' : `, its axis ${mm(verdict.nearest.off_mm)} mm off`}.`;
      return {
        code: 'interface-missing',
        text: `${name}${declared}${face.at_mm === undefined ? '' : ` at ${place(face.at_mm)} mm`}: ${few}.${nearest}`,
        remedy: 'Correct its size, place or axis in the manifest, or the mesh.',
      };
    }
    case 'unchecked':
      return {
        code: 'interface-unchecked',
        text: `${name}${declared} cannot be checked. ${verdict.why}`,
        remedy: 'Measure it by hand.',
      };
  }
}

/** Both diameters, the one that matters first. */
function sizes(face: Interface, { size_mm, other_mm }: Measured): string {
  if (other_mm === null) return `${mm(size_mm)} mm`;
  return face.kind === 'bore'
    ? `${mm(size_mm)} mm across the flats (${mm(other_mm)} through the corners)`
    : `${mm(size_mm)} mm through the corners (${mm(other_mm)} across the flats)`;
}

function allowed({ tolerance_mm: t }: Interface): string {
  const { plus, minus } = t ?? {
    plus: checkDefaults.interfaces.tolerance_mm,
    minus: checkDefaults.interfaces.tolerance_mm,
  };
  return plus === minus ? ` ± ${plus}` : ` +${plus} −${minus}`;
}

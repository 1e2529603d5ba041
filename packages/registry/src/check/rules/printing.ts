import type { RegistryDocument, VariantDocument } from '@kinprint/manifest';
import { didYouMean, nearestNames } from '../../git/nearest.ts';
import type { VariantState } from '../../state/types.ts';
import { checkDefaults } from '../defaults.ts';
import type { PartLook } from '../facts.ts';
import { inManifest, type Finding } from '../finding.ts';
import { mm, place } from '../words.ts';

/** Walls thinner than the registry allows. */
export function wallFindings(
  variant: VariantState,
  manifest: VariantDocument,
  registry: RegistryDocument | null,
  looks: readonly (PartLook | null)[],
): Finding[] {
  const least = registry?.policy?.thinnest_wall_mm;
  if (least === undefined) return [];
  return manifest.parts.flatMap((part, k) => {
    const look = looks[k];
    const facts = look?.state === 'measured' ? look.facts : null;
    const wall = facts?.thinnest_wall_mm ?? null;
    if (facts === null || wall === null || wall >= least * (1 - checkDefaults.interfaces.rounding)) return [];
    const at = facts.thin_places[0];
    return [
      inManifest(
        variant,
        'wall-thin',
        ['parts', k, 'mesh'],
        `The thinnest wall is ${mm(wall)} mm${at === undefined ? '' : `, at ${place(at.from_mm)} mm`}; registry.yaml asks for ${mm(least)} mm.`,
        'Make the wall thicker, or change policy.thinnest_wall_mm for all parts.',
        part.id,
      ),
    ];
  });
}

/** Materials that registry.yaml does not list. It may list none; then any name is fine. */
export function materialFindings(
  variant: VariantState,
  manifest: VariantDocument,
  registry: RegistryDocument | null,
): Finding[] {
  const listed = (registry?.materials ?? []).map(material => material.id);
  if (listed.length === 0) return [];
  return manifest.parts.flatMap((part, k) => {
    if (part.material === undefined || listed.includes(part.material)) return [];
    const near = didYouMean(nearestNames(part.material, listed));
    return [
      inManifest(
        variant,
        'material-unknown',
        ['parts', k, 'material'],
        `registry.yaml lists no material '${part.material}'.`,
        `${near}Correct the name, or list the material with its density in registry.yaml.`,
        part.id,
      ),
    ];
  });
}

/** Layers too high for the nozzle that the part names, or for the usual one. */
export function layerFindings(variant: VariantState, manifest: VariantDocument): Finding[] {
  return manifest.parts.flatMap((part, k) => {
    const { layer_height_mm: layer, nozzle_mm: stated } = part.print ?? {};
    if (layer === undefined) return [];
    const { layerOfNozzle, nozzle_mm: usual } = checkDefaults.printing;
    const nozzle = stated ?? usual;
    const most = layerOfNozzle * nozzle;
    // 0.8 × 0.4 is 0.32000000000000006 in binary; 0.24 / 0.3 falls on the other side.
    if (layer <= most + 1e-9) return [];
    const which = stated === undefined ? `the usual nozzle of ${usual} mm` : `a nozzle of ${stated} mm`;
    // Whoever names no nozzle may have a wider one.
    const code = layer >= nozzle && stated !== undefined ? 'layer-above-nozzle' : 'layer-too-high';
    return [
      inManifest(
        variant,
        code,
        ['parts', k, 'print', 'layer_height_mm'],
        `Layers of ${layer} mm are too high for ${which}: at most ${mm(most)} mm hold well.`,
        stated === undefined
          ? 'Name the nozzle, or lower the layers.'
          : 'Lower the layers, or name a wider nozzle.',
        part.id,
      ),
    ];
  });
}

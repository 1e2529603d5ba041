import type { VariantDocument } from '@kinprint/manifest';
import { didYouMean, nearestNames } from '../../git/nearest.ts';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type DocumentPath, type Finding } from '../finding.ts';

/** Names within a manifest that lead nowhere, and names given twice. */
export function referenceFindings(variant: VariantState, manifest: VariantDocument): Finding[] {
  return [...repeated(variant, manifest), ...placements(variant, manifest), ...mates(variant, manifest)];
}

function repeated(variant: VariantState, manifest: VariantDocument): Finding[] {
  const lists: readonly (readonly [
    readonly { readonly id: string }[],
    DocumentPath,
    string,
    string | null,
  ])[] = [
    [manifest.parts, ['parts'], 'part', null],
    [manifest.hardware ?? [], ['hardware'], 'piece of hardware', null],
    ...manifest.parts.map(
      (part, k) => [part.interfaces ?? [], ['parts', k, 'interfaces'], 'interface', part.id] as const,
    ),
  ];
  return lists.flatMap(([items, path, what, part]) => {
    const seen = new Set<string>();
    return items.flatMap(({ id }, k) => {
      if (!seen.has(id)) {
        seen.add(id);
        return [];
      }
      const text = `Another ${what} is called '${id}' as well.`;
      return [inManifest(variant, 'id-repeated', [...path, k, 'id'], text, 'Give each its own id.', part)];
    });
  });
}

function placements(variant: VariantState, manifest: VariantDocument): Finding[] {
  const parts = manifest.parts.map(part => part.id);
  return (manifest.assembly ?? []).flatMap(({ part }, k) =>
    parts.includes(part)
      ? []
      : [
          inManifest(
            variant,
            'placement-unknown',
            ['assembly', k, 'part'],
            `The assembly places '${part}', which is no part of this variant.`,
            `${didYouMean(nearestNames(part, parts))}Name one of its parts.`,
          ),
        ],
  );
}

function mates(variant: VariantState, manifest: VariantDocument): Finding[] {
  const names = [
    'body',
    ...(manifest.hardware ?? []).map(({ id }) => `hardware/${id}`),
    ...manifest.parts.flatMap(part => (part.interfaces ?? []).map(({ id }) => `${part.id}/${id}`)),
  ];
  const known = new Set(names);
  return manifest.parts.flatMap((part, k) =>
    (part.interfaces ?? []).flatMap(({ id, mates: mate }, i) =>
      mate === undefined || known.has(mate)
        ? []
        : [
            inManifest(
              variant,
              'mate-unknown',
              ['parts', k, 'interfaces', i, 'mates'],
              `The interface '${id}' mates '${mate}', which this variant does not have.`,
              `${didYouMean(nearestNames(mate, names))}Write part/interface, hardware/id, or body.`,
              part.id,
            ),
          ],
    ),
  );
}

import { threadDiameter } from '@kinprint/fit';
import type { Hardware, Interface, VariantDocument } from '@kinprint/manifest';

/** An interface by its place in the manifest. */
export interface InterfaceAt {
  readonly part: string;
  /** Index of the part, and of the interface within it. */
  readonly partIndex: number;
  readonly index: number;
  readonly face: Interface;
}

/** A bore and what is declared to go into it: whichever of the two says so. */
export interface DeclaredMate {
  readonly bore: InterfaceAt;
  readonly takes:
    | { readonly kind: 'pin'; readonly pin: InterfaceAt }
    | {
        readonly kind: 'hardware';
        readonly item: Hardware;
        /** What of it goes into the bore, as stated, or else its thread; null where nothing says. */
        readonly across_mm: number | null;
        /** Whether that is the nominal diameter of a metric thread. */
        readonly metric: boolean;
      };
  /** What the bore states, else the pin. */
  readonly clearance: NonNullable<Interface['clearance']> | null;
}

/** All declared pairs of a bore with a pin or a piece of hardware, in the order of the bores. */
export function declaredMates(manifest: VariantDocument): DeclaredMate[] {
  const all = manifest.parts.flatMap(({ id, interfaces = [] }, partIndex) =>
    interfaces.map((face, index): InterfaceAt => ({ part: id, partIndex, index, face })),
  );
  const named = new Map(all.map(one => [`${one.part}/${one.face.id}`, one]));
  const pinsOf = new Map<string, InterfaceAt[]>();
  for (const pin of all) {
    const { kind, mates } = pin.face;
    if (kind === 'pin' && mates !== undefined) pinsOf.set(mates, [...(pinsOf.get(mates) ?? []), pin]);
  }
  const items = new Map((manifest.hardware ?? []).map(item => [`hardware/${item.id}`, item]));
  return all
    .filter(({ face }) => face.kind === 'bore')
    .flatMap((bore): DeclaredMate[] => {
      const { mates, clearance } = bore.face;
      const own = mates === undefined ? undefined : named.get(mates);
      const others = pinsOf.get(`${bore.part}/${bore.face.id}`) ?? [];
      const pins = new Set([...(own?.face.kind === 'pin' ? [own] : []), ...others]);
      const item = mates === undefined ? undefined : items.get(mates);
      const thread_mm = item?.size === undefined ? null : threadDiameter(item.size);
      const across_mm = item?.across_mm ?? thread_mm;
      const metric = item?.across_mm === undefined && thread_mm !== null;
      return [
        ...[...pins].map((pin): DeclaredMate => ({
          bore,
          takes: { kind: 'pin', pin },
          clearance: clearance ?? pin.face.clearance ?? null,
        })),
        ...(item === undefined
          ? []
          : [
              {
                bore,
                takes: { kind: 'hardware', item, across_mm, metric },
                clearance: clearance ?? null,
              } as const,
            ]),
      ];
    });
}

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

/** What goes into a bore or a slot, or lies on a face. */
export type Taken =
  | { readonly kind: 'pin' | 'tongue' | 'face'; readonly at: InterfaceAt }
  | {
      readonly kind: 'hardware';
      readonly item: Hardware;
      /** What of it goes in, as stated, or else its thread; null where nothing says. */
      readonly across_mm: number | null;
      /** Whether that is the nominal diameter of a metric thread. */
      readonly metric: boolean;
    };

/** A bore, slot or face, and what is declared to mate it: whichever of the two says so. */
export interface DeclaredMate {
  readonly seat: InterfaceAt;
  readonly takes: Taken;
  /** What the seat states, else the other. */
  readonly clearance: NonNullable<Interface['clearance']> | null;
}

/** What goes into what. Of two faces the one declared first is the seat. */
const takenBy: Readonly<Record<Interface['kind'], readonly ('pin' | 'tongue' | 'face')[]>> = {
  bore: ['pin'],
  slot: ['pin', 'tongue'],
  face: ['face'],
  pin: [],
  tongue: [],
};

/** All declared pairs, in the order of the seats. */
export function declaredMates(manifest: VariantDocument): DeclaredMate[] {
  const all = manifest.parts.flatMap(({ id, interfaces = [] }, partIndex) =>
    interfaces.map((face, index): InterfaceAt => ({ part: id, partIndex, index, face })),
  );
  const named = new Map(all.map(one => [nameOf(one), one]));
  const naming = new Map<string, InterfaceAt[]>();
  for (const one of all) {
    const { mates } = one.face;
    if (mates !== undefined) naming.set(mates, [...(naming.get(mates) ?? []), one]);
  }
  const items = new Map((manifest.hardware ?? []).map(item => [`hardware/${item.id}`, item]));
  const order = new Map(all.map((one, k) => [one, k]));
  return all.flatMap((seat): DeclaredMate[] => {
    const { mates, clearance, kind } = seat.face;
    const own = mates === undefined ? undefined : named.get(mates);
    const others = new Set([...(own === undefined ? [] : [own]), ...(naming.get(nameOf(seat)) ?? [])]);
    const item = mates === undefined || (kind !== 'bore' && kind !== 'slot') ? undefined : items.get(mates);
    return [
      ...[...others].flatMap((at): DeclaredMate[] => {
        const other = takenBy[kind].find(it => it === at.face.kind);
        if (other === undefined || (kind === 'face' && (order.get(at) ?? 0) <= (order.get(seat) ?? 0)))
          return [];
        return [{ seat, takes: { kind: other, at }, clearance: clearance ?? at.face.clearance ?? null }];
      }),
      ...(item === undefined ? [] : [{ seat, takes: bought(item), clearance: clearance ?? null }]),
    ];
  });
}

function bought(item: Hardware): Taken {
  const thread_mm = item.size === undefined ? null : threadDiameter(item.size);
  return {
    kind: 'hardware',
    item,
    across_mm: item.across_mm ?? thread_mm,
    metric: item.across_mm === undefined && thread_mm !== null,
  };
}

function nameOf({ part, face }: InterfaceAt): string {
  return `${part}/${face.id}`;
}

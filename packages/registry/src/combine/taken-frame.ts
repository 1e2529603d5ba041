import { isDeepStrictEqual } from 'node:util';
import type { CombineMeshOptions } from '@kinprint/compare';
import type { Part } from '@kinprint/manifest';
import type { KeptCombinations } from './combine-files.ts';
import { motionToBase, type TakenFrame } from './combine-parts.ts';
import type { ClashDesk } from './document-choices.ts';
import type { SideContent } from './side-content.ts';

type Sides<T> = Readonly<Record<'base' | 'a' | 'b', T>>;

/**
 * Where a mesh stands that is taken from one side, when the other side changed something that depends on it: places and
 * axes of interfaces, the way up, placements in the assembly. Undefined where it changed none of these.
 *
 * Where the mesh cannot be laid over that of the base, whose words hold is a conflict, `parts/ID/frame`.
 */
export async function takenFrame(
  sides: Sides<SideContent>,
  id: string,
  from: 'a' | 'b',
  options: CombineMeshOptions,
  kept: KeptCombinations,
  settle: ClashDesk['settle'],
): Promise<TakenFrame | undefined> {
  const part = (side: 'base' | 'a' | 'b') => sides[side].parent.manifest.parts.find(each => each.id === id);
  const [base, taken, other] = [part('base'), part(from), part(from === 'a' ? 'b' : 'a')];
  if (base === undefined || taken === undefined || other === undefined) return undefined;
  const words = {
    base: placedWords(sides.base, base),
    a: placedWords(sides.a, from === 'a' ? taken : other),
    b: placedWords(sides.b, from === 'b' ? taken : other),
  };
  if (isDeepStrictEqual(words[from === 'a' ? 'b' : 'a'], words.base)) return undefined;
  const toBase = await motionToBase(sides, { base, taken }, from, options, kept);
  if (toBase !== null) return { kind: 'motion', toBase };
  return { kind: 'unknown', words: settle({ key: `parts/${id}/frame`, ...words }) };
}

/** What a side says of a part that depends on where its mesh stands. */
function placedWords({ parent }: SideContent, { id, interfaces = [], print }: Part) {
  return {
    interfaces: interfaces.map(({ id: name, at_mm, axis }) => ({ id: name, at_mm, axis })),
    up: print?.up,
    assembly: (parent.manifest.assembly ?? []).filter(item => item.part === id),
  };
}

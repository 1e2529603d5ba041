import type { Combination, CombineMeshOptions } from '@kinprint/compare';
import type { Part } from '@kinprint/manifest';
import { InputError, type Affine, type ReadOptions } from '@kinprint/mesh';
import { entryOf } from '../state/entries.ts';
import type { KeptCombinations } from './combine-files.ts';
import { meshChoices } from './document-choices.ts';
import { meshFile, meshKey, type SideContent } from './side-content.ts';
import type { PartOrigin, VariantChoices } from './variants.ts';

type Sides<T> = Readonly<Record<'base' | 'a' | 'b', T>>;

/** The mesh of a part, decided as far as files alone decide it. */
export interface PartMesh {
  readonly from: PartOrigin;
  readonly combination: Combination | null;
  /** Of a combined mesh with every conflict settled. */
  readonly bytes: Uint8Array | null;
  /** Of a mesh taken from one side: where it stands. Left out where nothing depends on that. */
  readonly frame?: TakenFrame;
}

/**
 * Where the mesh taken from one side stands: the motion that lays it over the base's, or whose words hold where none
 * does (null while that is open).
 */
export type TakenFrame =
  | { readonly kind: 'motion'; readonly toBase: Affine }
  | { readonly kind: 'unknown'; readonly words: 'base' | 'a' | 'b' | null };

/**
 * Where the mesh of a part that all three have, or two, comes from; solids are combined where both changed it.
 * Null where it cannot be said: both added the part, each with a mesh of its own.
 *
 * @param kept combinations of meshes by the ids of parts
 * @throws InputError what keeps meshes from being read or combined
 */
export async function partMesh(
  sides: Sides<SideContent>,
  parts: Sides<Part | undefined>,
  choices: VariantChoices,
  options: CombineMeshOptions,
  kept: KeptCombinations,
): Promise<PartMesh | null> {
  const plain = (from: PartOrigin): PartMesh => ({ from, combination: null, bytes: null });
  const { base, a, b } = parts;
  if (a === undefined || b === undefined) return plain(a === undefined ? 'b' : 'a');
  const [first, second] = [meshKey(sides.a, a), meshKey(sides.b, b)];
  const was = base === undefined ? null : meshKey(sides.base, base);
  if (first === second) return plain(first === was ? 'base' : 'both');
  if (first === was) return plain('b');
  if (second === was) return plain('a');
  if (base === undefined) return null;

  const { combination, bytes } = await combined(sides, { base, a, b }, choices, options, kept);
  return { from: 'combined', combination, bytes };
}

/**
 * The motion that lays the mesh of a part of one side over that of the base, told as when solids are combined.
 *
 * @returns null where it has none: a mirror image, another size, or another thing
 */
export async function motionToBase(
  sides: Sides<SideContent>,
  { base, taken }: { readonly base: Part; readonly taken: Part },
  from: 'a' | 'b',
  options: CombineMeshOptions,
  kept: KeptCombinations,
): Promise<Affine | null> {
  const parts = { base, a: from === 'a' ? taken : base, b: from === 'b' ? taken : base };
  const files = { base: sides.base, a: sides.base, b: sides.base, [from]: sides[from] };
  try {
    const { combination } = await combined(files, parts, { all: 'both', single: {} }, options, kept);
    return combination[from].alignment.matrix;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** @throws InputError what keeps meshes from being read or combined */
async function combined(
  sides: Sides<SideContent>,
  all: Sides<Part>,
  choices: VariantChoices,
  options: CombineMeshOptions,
  kept: KeptCombinations,
) {
  const { base, a, b } = all;
  const entry = (side: 'base' | 'a' | 'b') =>
    entryOf(sides[side].parent.content.files, meshFile(sides[side], all[side]).ref);
  const name = (side: 'base' | 'a' | 'b') => `${sides[side].parent.address}/${all[side].mesh}`;
  const read = ({ unit }: Part): ReadOptions => (unit === undefined ? {} : { unit });
  return kept.combine(
    base.id,
    { base: await entry('base'), a: await entry('a'), b: await entry('b') },
    { base: name('base'), a: name('a'), b: name('b') },
    {
      options,
      choices: meshChoices(choices, base.id),
      format: /\.3mf$/i.test(base.mesh) ? '3mf' : 'stl',
      read: { base: read(base), a: read(a), b: read(b) },
    },
  );
}

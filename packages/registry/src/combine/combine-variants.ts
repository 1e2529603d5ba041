import type { OpenSourceRegistry } from '../derive/derive-variant.ts';
import { noSource, parentOf, targetOf } from '../derive/derive-variant.ts';
import { refuseTaken, writeVariant } from '../derive/write-variant.ts';
import { stateHistory } from '../history/content-at.ts';
import type { RegistryState } from '../state/types.ts';
import { keptCombinations, type KeptCombinations } from './combine-files.ts';
import { partMesh, type PartMesh } from './combine-parts.ts';
import { checkChoices, clashDesk } from './document-choices.ts';
import { mergeVariants } from './merge-variants.ts';
import { meshKey, sideContent, type SideContent } from './side-content.ts';
import { takenFrame } from './taken-frame.ts';
import type { CombinedPart, CombineVariantsReport, CombineVariantsRequest } from './variants.ts';

type Sides<T> = Readonly<Record<'base' | 'a' | 'b', T>>;

/**
 * Brings two variants that came from one together as a new variant.
 *
 * Parts that one side changed are taken from it; the solids of parts that both changed are combined; manifests are
 * merged field by field. Nothing is written before every conflict is settled and every combined mesh is proven, and
 * then the whole folder at once. The new variant has no letter: recording it is a person's step.
 *
 * @param source opens a source by its name
 * @param kept combinations of meshes from when the same was asked with other choices; the caller closes them
 * @param progress told the part whose solids are being combined
 * @throws InputError for addresses that lead nowhere, content that cannot be had, choices that nobody asked for
 */
export async function combineVariants(
  state: RegistryState,
  request: CombineVariantsRequest,
  source: (name: string) => Promise<OpenSourceRegistry> = noSource,
  progress: (part: string) => void = () => undefined,
  kept?: KeptCombinations,
): Promise<CombineVariantsReport> {
  const combinations = kept ?? keptCombinations();
  const root = state.files.root;
  if (root === null) throw new Error('Only a working copy can be added to.');
  const history = stateHistory(root);
  try {
    const side = async (address: string) => sideContent(await parentOf(state, history, address, source));
    const sides: Sides<SideContent> = {
      base: await side(request.base),
      a: await side(request.a),
      b: await side(request.b),
    };
    const to = targetOf(state, request.to, sides.base.parent.address);
    const folder = `devices/${to}`;
    refuseTaken(root, folder);

    const desk = clashDesk(request.choices);
    const meshes = new Map<string, PartMesh>();
    for (const id of partIds(sides)) {
      const parts = partsOf(sides, id);
      progress(id);
      const mesh = await partMesh(sides, parts, request.choices, request.mesh, combinations);
      if (mesh?.from === 'a' || mesh?.from === 'b') {
        const { from } = mesh;
        const frame = await takenFrame(sides, id, from, request.mesh, combinations, desk.settle);
        meshes.set(id, frame === undefined ? mesh : { ...mesh, frame });
      } else if (mesh !== null) meshes.set(id, mesh);
      else meshes.set(id, { from: pickAdded(sides, id, desk), combination: null, bytes: null });
    }
    const { derived, origins } = mergeVariants(sides, meshes, desk, request.title);
    const parts: CombinedPart[] = [...origins].map(([id, from]) => ({
      id,
      from,
      combination: meshes.get(id)?.combination ?? null,
    }));
    checkChoices(request.choices, [
      ...desk.conflicts.map(conflict => conflict.key),
      ...[...meshes].flatMap(([id, { combination }]) =>
        (combination?.conflicts ?? []).map(conflict => `${id}:${conflict.number}`),
      ),
    ]);
    const ready =
      desk.conflicts.every(conflict => conflict.take !== null) &&
      parts.every(({ combination }) => combination === null || combination.proof?.holds === true);
    if (ready) await writeVariant(root, folder, derived);
    const named = ({ parent: { address, digest } }: SideContent) => ({ address, digest });
    return {
      revisions: { base: named(sides.base), a: named(sides.a), b: named(sides.b) },
      written: ready ? { address: to, folder } : null,
      parts,
      conflicts: desk.conflicts,
      unsettled: derived.unsettled,
    };
  } finally {
    if (kept === undefined) await combinations.close();
    await history.close();
  }
}

function partIds(sides: Sides<SideContent>): string[] {
  const ids = (['base', 'a', 'b'] as const).flatMap(side =>
    sides[side].parent.manifest.parts.map(part => part.id),
  );
  const both = new Set(ids);
  // What neither side has any more is gone.
  return [...both].filter(id => partsOf(sides, id).a !== undefined || partsOf(sides, id).b !== undefined);
}

function partsOf(sides: Sides<SideContent>, id: string) {
  const of = (side: 'base' | 'a' | 'b') => sides[side].parent.manifest.parts.find(part => part.id === id);
  return { base: of('base'), a: of('a'), b: of('b') };
}

/** Both added a part of one name, each with its own mesh: there is no base to combine them over. */
function pickAdded(sides: Sides<SideContent>, id: string, desk: ReturnType<typeof clashDesk>): 'a' | 'b' {
  const { a, b } = partsOf(sides, id);
  if (a === undefined || b === undefined) throw new Error(`'${id}' is not in both.`);
  const values = { base: undefined, a: meshKey(sides.a, a), b: meshKey(sides.b, b) };
  return desk.settle({ key: `parts/${id}/mesh`, ...values }) === 'b' ? 'b' : 'a';
}

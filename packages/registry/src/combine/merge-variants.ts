import {
  mergeValues,
  type Author,
  type Derivation,
  type Part,
  type Placement,
  type VariantDocument,
} from '@kinprint/manifest';
import type { Affine } from '@kinprint/mesh';
import { allAuthors, ordered } from '../derive/carry-over.ts';
import { carriedTerms, licenseOf, type CarriedTerms } from '../derive/carry-terms.ts';
import type { Derived, DerivedFile, Parent } from '../derive/derive.ts';
import { freePath } from '../derive/free-path.ts';
import type { PartMesh } from './combine-parts.ts';
import type { ClashDesk } from './document-choices.ts';
import { motionBack, partInBaseFrame, placedLike, placementInBaseFrame } from './in-base-frame.ts';
import { meshKey, type SideContent } from './side-content.ts';
import type { PartOrigin } from './variants.ts';

type Side = 'base' | 'a' | 'b';
type Sides<T> = Readonly<Record<Side, T>>;

/**
 * Two manifests and their files merged with those of their base.
 *
 * Manifests are merged field by field, parts and hardware by id; what both changed differently goes to the desk. The
 * meshes are decided already (`meshes`). Authors and cautions are those of all three: nobody's credit and no warning
 * is dropped by a merge. The license is carried over where both sides have the same; else it is a person's to settle.
 */
export function mergeVariants(
  sides: Sides<SideContent>,
  meshes: ReadonlyMap<string, PartMesh>,
  desk: ClashDesk,
  title: string | undefined,
): { readonly derived: Derived; readonly origins: ReadonlyMap<string, PartOrigin> } {
  const parents = [sides.a.parent, sides.b.parent];
  const all = [...parents, sides.base.parent];
  const terms = carriedTerms(parents);
  const unsettled = [...terms.unsettled];
  const merged = mergedManifest(sides, meshes, desk);
  const files: DerivedFile[] = otherFiles(sides, desk);
  const origins = new Map(merged.parts.map(part => [part.id, originOf(sides, part, meshes)]));
  const parts = merged.parts.map(part => {
    const from = origins.get(part.id) ?? 'base';
    const { bytes } = meshes.get(part.id) ?? missing(part.id);
    const side = from === 'a' || from === 'b' ? from : firstWith(sides, part.id);
    const { parent } = sides[side];
    const own = partOf(sides[side], part.id) ?? part;
    const place = (path: string): string =>
      freePath(
        path,
        files.map(file => file.path),
      );
    const authors = inBoth(sides, part.id) ? partAuthors(sides, part.id) : (own.authors ?? null);
    if (from !== 'combined') {
      const copied = (path: string): string => {
        const found = files.find(
          file => file.kind === 'copy' && file.parent === parent && file.from === at(parent, path),
        );
        if (found !== undefined) return found.path;
        const to = place(path);
        files.push({ kind: 'copy', path: to, parent, from: at(parent, path) });
        return to;
      };
      const mesh = copied(own.mesh);
      const source = own.source?.map(copied);
      return {
        ...part,
        ...(own.unit === undefined ? {} : { unit: own.unit }),
        mesh,
        ...(source === undefined ? {} : { source }),
        ...licenseOf(own, parent, terms),
        ...(authors === null ? {} : { authors }),
      };
    }
    const mesh = place(/\.(stl|3mf)$/i.test(own.mesh) ? own.mesh : own.mesh.replace(/\.[^./]*$/, '.stl'));
    if (bytes !== null) files.push({ kind: 'bytes', path: mesh, bytes });
    const marks = combinedMarks(sides, part.id, terms);
    if (['a', 'b'].some(each => (partOf(sides[each as Side], part.id)?.source ?? []).length > 0))
      unsettled.push(
        `${part.id}: editable models were left behind, as none shows the combined shape. They are in ${parents.map(each => each.address).join(' and ')}.`,
      );
    unsettled.push(...marks.map(mark => `${part.id}: ${mark}`));
    const license = sharedLicense(sides, part.id, terms);
    return {
      ...part,
      mesh,
      ...(license === null ? {} : { license }),
      ...(authors === null ? {} : { authors }),
      ...(marks.length === 0 ? {} : { unsettled: [...new Set(marks)].join(' ').slice(0, 200) }),
    };
  });

  const authors = allAuthors(all);
  const cautions = [...new Set(all.flatMap(parent => parent.manifest.cautions ?? []))];
  const manifest: VariantDocument = {
    ...merged,
    kinprint: 'variant/1',
    title: [...(title ?? `${sides.base.parent.manifest.title} (combination)`)].slice(0, 200).join(''),
    ...(terms.license === null ? {} : { license: terms.license }),
    ...(authors.length === 0 ? {} : { authors }),
    derivations: derivationsOf(sides, origins, terms),
    parts,
    ...(cautions.length === 0 ? {} : { cautions }),
  };
  const comments: Record<string, string> = {
    '': `${sides.a.parent.address} and ${sides.b.parent.address} combined over ${sides.base.parent.address}.`,
    ...(title === undefined
      ? { '/title': 'Say what this one is; the title was made from that of the base.' }
      : {}),
    ...(authors.length === 0
      ? {}
      : { '/authors': 'Everybody who made what was combined. Add yourself; take nobody out.' }),
  };
  return { derived: { manifest: ordered(manifest), comments, files, unsettled }, origins };
}

/** Everything but what has a rule of its own: title, license, authors, derivations, revisions, cautions, meshes. */
function mergedManifest(
  sides: Sides<SideContent>,
  meshes: ReadonlyMap<string, PartMesh>,
  desk: ClashDesk,
): Pick<VariantDocument, 'summary' | 'hardware' | 'assembly' | 'fit'> & { readonly parts: readonly Part[] } {
  const bare = (side: Side) => {
    const { manifest } = sides[side].parent;
    const {
      title: _title,
      license: _license,
      authors: _authors,
      derivations: _derivations,
      revisions: _revisions,
      cautions: _cautions,
      ...rest
    } = manifest;
    const inFrame = carriedToResult(sides, side, meshes);
    const parts = manifest.parts.map(part => barePart(sides, sides[side], inFrame.part(part)));
    const { assembly } = manifest;
    return { ...rest, parts, ...(assembly === undefined ? {} : { assembly: inFrame.assembly(assembly) }) };
  };
  return mergeValues({ base: bare('base'), a: bare('a'), b: bare('b') }, '', desk.settle) as VariantDocument;
}

/** How to carry what a side says of its parts into the frame that the meshes of the result are in. */
function carriedToResult(sides: Sides<SideContent>, side: Side, meshes: ReadonlyMap<string, PartMesh>) {
  /** Whose frame the mesh of a part is in, and the motion there; null where there is nothing to carry. */
  const wayOf = (id: string): { readonly to: Side; readonly motion: Affine | null } | null => {
    const mesh = meshes.get(id);
    if (mesh?.frame?.kind === 'unknown') return { to: mesh.frame.words ?? side, motion: null };
    if (mesh?.frame?.kind === 'motion') {
      if (mesh.from !== 'a' && mesh.from !== 'b') return null;
      return mesh.from === side ? null : { to: mesh.from, motion: motionBack(mesh.frame.toBase) };
    }
    const alignment = side === 'base' ? undefined : mesh?.combination?.[side].alignment;
    return alignment === undefined || alignment.kind === 'identity'
      ? null
      : { to: 'base', motion: alignment.matrix };
  };
  return {
    part(part: Part): Part {
      const way = wayOf(part.id);
      if (way === null) return part;
      const other = partOf(sides[way.to], part.id);
      return way.motion === null ? placedLike(part, other) : partInBaseFrame(part, other, way.motion);
    },
    assembly(own: readonly Placement[]): readonly Placement[] {
      return own.map((placement, k) => {
        const way = wayOf(placement.part);
        if (way === null) return placement;
        const copy = own.slice(0, k).filter(({ part }) => part === placement.part).length;
        const placements = sides[way.to].parent.manifest.assembly ?? [];
        const other = placements.filter(item => item.part === placement.part).at(copy);
        return way.motion === null
          ? (other ?? placement)
          : placementInBaseFrame(placement, other, way.motion);
      });
    },
  };
}

/** A part to merge: its mesh by content, so that a renamed file is no change; without what follows from the mesh. */
function barePart(sides: Sides<SideContent>, side: SideContent, part: Part) {
  const { unit: _unit, source: _source, license: _license, authors: _authors, ...rest } = part;
  return { ...rest, mesh: inBoth(sides, part.id) ? 'decided' : meshKey(side, part) };
}

function inBoth(sides: Sides<SideContent>, id: string): boolean {
  return partOf(sides.a, id) !== undefined && partOf(sides.b, id) !== undefined;
}

/** Of a part that both sides have its mesh decides; of another the side whose part was taken. */
function originOf(
  sides: Sides<SideContent>,
  { id, mesh }: Part,
  meshes: ReadonlyMap<string, PartMesh>,
): PartOrigin {
  if (inBoth(sides, id)) return (meshes.get(id) ?? missing(id)).from;
  const has = (side: Side) => {
    const part = partOf(sides[side], id);
    return part !== undefined && meshKey(sides[side], part) === mesh;
  };
  return (['base', 'a', 'b'] as const).find(has) ?? missing(id);
}

function partOf({ parent }: SideContent, id: string): Part | undefined {
  return parent.manifest.parts.find(part => part.id === id);
}

/** The side whose words and terms hold for a part that both have alike. */
function firstWith(sides: Sides<SideContent>, id: string): Side {
  return (['a', 'b', 'base'] as const).find(side => partOf(sides[side], id) !== undefined) ?? 'base';
}

function missing(id: string): never {
  throw new Error(`Nothing was decided about the mesh of '${id}'.`);
}

function at(parent: Parent, path: string): string {
  return `${parent.content.folder}/${path}`;
}

/** Files that are no mesh and no model of any part: by path, whoever changed them. */
function otherFiles(sides: Sides<SideContent>, desk: ClashDesk): DerivedFile[] {
  const used = new Set(
    Object.values(sides).flatMap(({ parent }) =>
      parent.manifest.parts.flatMap(part => [part.mesh, ...(part.source ?? [])]),
    ),
  );
  const listing = (side: Side) =>
    Object.fromEntries(
      [...sides[side].files].flatMap(([path, { sha256 }]) => (used.has(path) ? [] : [[path, sha256]])),
    );
  const values = { base: listing('base'), a: listing('a'), b: listing('b') };
  const merged = mergeValues(values, 'files', desk.settle) as Record<string, string>;
  return Object.entries(merged).flatMap(([path, sha256]): DerivedFile[] => {
    const side = (['a', 'b', 'base'] as const).find(each => sides[each].files.get(path)?.sha256 === sha256);
    return side === undefined
      ? []
      : [{ kind: 'copy', path, parent: sides[side].parent, from: at(sides[side].parent, path) }];
  });
}

function sharedLicense(sides: Sides<SideContent>, id: string, terms: CarriedTerms): string | null {
  const [first, second] = (['a', 'b'] as const).map(side => {
    const part = partOf(sides[side], id);
    return part === undefined ? undefined : licenseOf(part, sides[side].parent, terms).license;
  });
  return first === second ? (first ?? null) : null;
}

/** What a person must settle of a combined part. */
function combinedMarks(sides: Sides<SideContent>, id: string, terms: CarriedTerms): string[] {
  const licenses = (['a', 'b'] as const).map(side => {
    const part = partOf(sides[side], id);
    return part?.license ?? sides[side].parent.manifest.license ?? 'none';
  });
  return licenses[0] === licenses[1] || sharedLicense(sides, id, terms) !== null
    ? []
    : [`Combined from work under ${licenses.join(' and ')}: settle which license satisfies both.`];
}

/** Everybody of both sides, where either side names authors of its own for the part. */
function partAuthors(sides: Sides<SideContent>, id: string): readonly Author[] | null {
  const both = (['a', 'b'] as const).map(side => sides[side].parent);
  if (both.every((_, k) => partOf(k === 0 ? sides.a : sides.b, id)?.authors === undefined)) return null;
  const named = both.map((parent, k) => ({
    ...parent,
    manifest: {
      ...parent.manifest,
      authors: partOf(k === 0 ? sides.a : sides.b, id)?.authors ?? parent.manifest.authors ?? [],
    },
  }));
  return allAuthors(named);
}

/** A link to both sides; to the base as well where neither is linked to it already. */
function derivationsOf(
  sides: Sides<SideContent>,
  origins: ReadonlyMap<string, PartOrigin>,
  terms: CarriedTerms,
): Derivation[] {
  const { base } = sides;
  const place = (address: string) => address.replace(/@[^@]*$/, '');
  const linked = [sides.a.parent, sides.b.parent].some(
    ({ address, manifest }) =>
      place(address) === place(base.parent.address) ||
      (manifest.derivations ?? []).some(item => place(item.from) === place(base.parent.address)),
  );
  const link = (parent: Parent, changes: string): Derivation => {
    const marks = terms.marks.get(parent) ?? [];
    return {
      from: parent.address,
      digest: parent.digest,
      relation: 'combination',
      changes,
      ...(marks.length === 0 ? {} : { unsettled: marks.join(' ').slice(0, 200) }),
    };
  };
  const told = (side: 'a' | 'b') => {
    const ids = (from: PartOrigin) =>
      [...origins].flatMap(([id, origin]) => (origin === from ? [id] : [])).join(', ');
    const [own, combined, both] = [ids(side), ids('combined'), ids('both')];
    const sentences = [
      combined === '' ? '' : `Its changes of ${combined} were combined with those of the other.`,
      own === '' ? '' : `Taken from here: ${own}.`,
      both === '' ? '' : `The same in both: ${both}.`,
    ].filter(Boolean);
    return sentences.length === 0 ? 'No part was changed here.' : sentences.join(' ');
  };
  return [
    link(sides.a.parent, told('a')),
    link(sides.b.parent, told('b')),
    ...(linked ? [] : [link(base.parent, 'What both others were made from.')]),
  ];
}

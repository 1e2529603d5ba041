import type { Author, Derivation, VariantDocument } from '@kinprint/manifest';
import { carriedTerms, licenseOf } from './carry-terms.ts';
import type { DerivedFile, Derived, DeriveOptions, Parent } from './derive.ts';
import { freePath } from './free-path.ts';

/**
 * A new variant with everything of its parents: files, authors with their roles, license, cautions. Of further
 * parents come the parts whose names the first does not use; each keeps its own license and authors where they
 * differ. What the parents' licenses leave open is told, see `carriedTerms`. Nothing is recorded of it yet.
 *
 * @param parents at least one
 */
export function carryOver(parents: readonly Parent[], options: DeriveOptions): Derived {
  const [first, ...others] = parents;
  if (first === undefined) throw new Error('A variant derives from at least one.');
  const unsettled: string[] = [];
  const files: DerivedFile[] = first.content.refs.map(ref => copyOf(first, ref.path));
  const terms = carriedTerms(parents);
  const parts = first.manifest.parts.map(part => ({ ...part, ...licenseOf(part, first, terms) }));
  const hardware = [...(first.manifest.hardware ?? [])];
  for (const parent of others) {
    const taken = takeFiles(parent, files);
    for (const part of parent.manifest.parts) {
      if (parts.some(known => known.id === part.id)) {
        unsettled.push(`The part '${part.id}' is in both parents; that of ${first.address} was taken.`);
        continue;
      }
      const authors = part.authors ?? parent.manifest.authors;
      parts.push({
        ...part,
        mesh: taken(part.mesh),
        ...(part.source === undefined ? {} : { source: part.source.map(taken) }),
        ...licenseOf(part, parent, terms),
        ...(authors === undefined || authors.length === 0 ? {} : { authors }),
      });
    }
    for (const item of parent.manifest.hardware ?? [])
      if (!hardware.some(known => known.id === item.id)) hardware.push(item);
  }
  unsettled.unshift(...terms.unsettled);
  const { revisions: _, license: _license, ...rest } = first.manifest;
  const cautions = [...new Set(parents.flatMap(parent => parent.manifest.cautions ?? []))];
  const authors = allAuthors(parents);
  const title = options.title ?? titleFor(first.manifest.title, options.relation);
  const manifest: VariantDocument = {
    ...rest,
    title: [...title].slice(0, 200).join(''),
    ...(terms.license === null ? {} : { license: terms.license }),
    ...(authors.length === 0 ? {} : { authors }),
    derivations: parents.map(parent => derivationOf(parent, options, terms.marks.get(parent) ?? [])),
    parts,
    ...(hardware.length === 0 ? {} : { hardware }),
    ...(cautions.length === 0 ? {} : { cautions }),
  };
  const marks = new Set([...terms.marks.values()].flat());
  const comments: Record<string, string> = {
    '': [
      `Derived from ${parents.map(parent => parent.address).join(' and ')}.`,
      ...[...marks].map(text => `unsettled: ${text}`),
    ].join('\n'),
    '/title': 'Say what this one is; the title was made from the first one.',
  };
  if (manifest.authors !== undefined)
    comments['/authors'] = 'Everybody who made what this derives from. Add yourself; take nobody out.';
  if (manifest.license !== undefined)
    comments['/license'] = 'Carried over. Another one is possible only where this one allows it.';
  if (options.relation === 'remix' || options.relation === 'combination')
    unsettled.push('Say in derivations what was changed; many licenses ask for it.');
  return { manifest: ordered(manifest), comments, files, unsettled };
}

/** A mirrored left one is a right one, where the title says which it is. */
function titleFor(title: string, relation: Derivation['relation']): string {
  const hands = relation === 'mirror' ? title.match(/\b(left|right)\b/gi) : null;
  if (hands?.length !== 1) return `${title} (${titleWords[relation]})`;
  const other = hands[0].toLowerCase() === 'left' ? 'right' : 'left';
  const capital = hands[0].startsWith(hands[0].charAt(0).toUpperCase());
  return title.replace(hands[0], capital ? other.charAt(0).toUpperCase() + other.slice(1) : other);
}

const titleWords: Readonly<Record<Derivation['relation'], string>> = {
  remix: 'remix',
  mirror: 'mirrored',
  rescale: 'rescaled',
  combination: 'combination',
  copy: 'copy',
};

/** @param marks what a person must still look at */
function derivationOf(parent: Parent, options: DeriveOptions, marks: readonly string[]): Derivation {
  const base = {
    from: parent.address,
    digest: parent.digest,
    relation: options.relation,
    ...(marks.length === 0 ? {} : { unsettled: marks.join(' ') }),
  };
  switch (options.relation) {
    case 'mirror':
      return { ...base, changes: 'Every part mirrored across the plane x = 0.' };
    case 'rescale':
      return { ...base, changes: `Every part scaled by ${options.scale ?? 1} about the origin.` };
    case 'copy':
      return { ...base, changes: 'Nothing: taken over as it is.' };
    case 'remix':
    case 'combination':
      return { ...base, unsettled: ['Say what was changed.', ...marks].join(' ') };
  }
}

/** Everybody once, with all their roles, in the order of the parents. */
export function allAuthors(parents: readonly Parent[]): Author[] {
  const all = new Map<string, Author>();
  for (const author of parents.flatMap(parent => parent.manifest.authors ?? [])) {
    const known = all.get(author.name);
    const roles = [...new Set([...(known?.roles ?? []), ...(author.roles ?? [])])];
    all.set(author.name, { ...author, ...known, ...(roles.length === 0 ? {} : { roles }) });
  }
  return [...all.values()];
}

/**
 * Copies files of a further parent, each once and under a name that no other file has.
 *
 * @returns takes a file by its path in the parent's folder; gives its path in the new one
 */
function takeFiles(parent: Parent, files: DerivedFile[]): (path: string) => string {
  const taken = new Map<string, string>();
  return path => {
    const known = taken.get(path);
    if (known !== undefined) return known;
    const free = freePath(
      path,
      files.map(file => file.path),
    );
    files.push(copyOf(parent, `${parent.content.folder}/${path}`, free));
    taken.set(path, free);
    return free;
  };
}

function copyOf(
  parent: Parent,
  from: string,
  path = from.slice(parent.content.folder.length + 1),
): DerivedFile {
  return { kind: 'copy', path, parent, from };
}

/** Keys in the order that people read them in. */
const order = [
  'kinprint',
  'title',
  'summary',
  'license',
  'authors',
  'derivations',
  'parts',
  'hardware',
  'assembly',
  'fit',
  'cautions',
] as const;

export function ordered(manifest: VariantDocument): VariantDocument {
  const entries = order.map(key => [key, manifest[key]] as const);
  return JSON.parse(JSON.stringify(Object.fromEntries(entries))) as VariantDocument;
}

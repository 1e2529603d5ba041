import type { Author, Derivation, VariantDocument } from '@kinprint/manifest';
import type { DerivedFile, Derived, DeriveOptions, Parent } from './derive.ts';

/**
 * A new variant with everything of its parents: files, authors with their roles, license, cautions. Of further
 * parents come the parts whose names the first does not use; each keeps its own license and authors where they
 * differ. Nothing is recorded of it yet.
 *
 * @param parents at least one
 */
export function carryOver(parents: readonly Parent[], options: DeriveOptions): Derived {
  const [first, ...others] = parents;
  if (first === undefined) throw new Error('A variant derives from at least one.');
  const unsettled: string[] = [];
  const files: DerivedFile[] = first.content.refs.map(ref => copyOf(first, ref.path));
  const parts = [...first.manifest.parts];
  const hardware = [...(first.manifest.hardware ?? [])];
  for (const parent of others) {
    for (const part of parent.manifest.parts) {
      if (parts.some(known => known.id === part.id)) {
        unsettled.push(`The part '${part.id}' is in both parents; that of ${first.address} was taken.`);
        continue;
      }
      const mesh = freePath(part.mesh, files);
      files.push(copyOf(parent, `${parent.content.folder}/${part.mesh}`, mesh));
      for (const model of part.source ?? [])
        if (!files.some(file => file.path === model))
          files.push(copyOf(parent, `${parent.content.folder}/${model}`));
      const license = part.license ?? parent.manifest.license;
      const authors = part.authors ?? parent.manifest.authors;
      parts.push({
        ...part,
        mesh,
        ...(license === undefined || license === first.manifest.license ? {} : { license }),
        ...(authors === undefined || authors.length === 0 ? {} : { authors }),
      });
    }
    for (const item of parent.manifest.hardware ?? [])
      if (!hardware.some(known => known.id === item.id)) hardware.push(item);
    if (parent.manifest.license !== first.manifest.license)
      unsettled.push(
        `The licenses differ: ${first.manifest.license ?? 'none'} (${first.address}), ${parent.manifest.license ?? 'none'} (${parent.address}). The whole must satisfy both.`,
      );
  }
  const { revisions: _, ...rest } = first.manifest;
  const cautions = [...new Set(parents.flatMap(parent => parent.manifest.cautions ?? []))];
  const authors = allAuthors(parents);
  const title = options.title ?? titleFor(first.manifest.title, options.relation);
  const manifest: VariantDocument = {
    ...rest,
    title: [...title].slice(0, 200).join(''),
    ...(authors.length === 0 ? {} : { authors }),
    derivations: parents.map(parent => derivationOf(parent, options)),
    parts,
    ...(hardware.length === 0 ? {} : { hardware }),
    ...(cautions.length === 0 ? {} : { cautions }),
  };
  const comments: Record<string, string> = {
    '': `Derived from ${parents.map(parent => parent.address).join(' and ')}.`,
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

function derivationOf(parent: Parent, options: DeriveOptions): Derivation {
  const base = { from: parent.address, digest: parent.digest, relation: options.relation };
  switch (options.relation) {
    case 'mirror':
      return { ...base, changes: 'Every part mirrored across the plane x = 0.' };
    case 'rescale':
      return { ...base, changes: `Every part scaled by ${options.scale ?? 1} about the origin.` };
    case 'copy':
      return { ...base, changes: 'Nothing: taken over as it is.' };
    case 'remix':
    case 'combination':
      return { ...base, unsettled: 'Say what was changed.' };
  }
}

/** Everybody once, with all their roles, in the order of the parents. */
function allAuthors(parents: readonly Parent[]): Author[] {
  const all = new Map<string, Author>();
  for (const author of parents.flatMap(parent => parent.manifest.authors ?? [])) {
    const known = all.get(author.name);
    const roles = [...new Set([...(known?.roles ?? []), ...(author.roles ?? [])])];
    all.set(author.name, { ...author, ...known, ...(roles.length === 0 ? {} : { roles }) });
  }
  return [...all.values()];
}

function copyOf(
  parent: Parent,
  from: string,
  path = from.slice(parent.content.folder.length + 1),
): DerivedFile {
  return { kind: 'copy', path, parent, from };
}

/** The path, or with a number where another file has it. */
function freePath(path: string, files: readonly DerivedFile[]): string {
  const taken = new Set(files.map(file => file.path.toLowerCase()));
  const dot = path.lastIndexOf('.');
  for (let n = 1; ; n++) {
    const candidate = n === 1 ? path : `${path.slice(0, dot)}-${n}${path.slice(dot)}`;
    if (!taken.has(candidate.toLowerCase())) return candidate;
  }
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

function ordered(manifest: VariantDocument): VariantDocument {
  const entries = order.map(key => [key, manifest[key]] as const);
  return JSON.parse(JSON.stringify(Object.fromEntries(entries))) as VariantDocument;
}

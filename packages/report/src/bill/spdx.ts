import type { Term } from '@kinprint/license';
import type { Bill, BillFile, BillLink, BillRevision } from '@kinprint/registry';
import { noLegalAdvice } from '@kinprint/license';
import { creditBlock } from '../credits/credits-plain.ts';
import type { BillAbout } from './about.ts';
import { authorsNote, copyrightLines, namesOf } from './copyright.ts';
import { contentUuid } from './document-id.ts';
import { downloadAddress } from './download-address.ts';
import { spdxIds } from './spdx-ids.ts';
import { fileLicense, statedLicense, wholeLicense, type StatedLicense } from './stated-license.ts';

/**
 * A revision and its lineage as an SPDX document, version 2.3 (ISO/IEC 5962 is its edition 2.2.1), in JSON. Every revision
 * is a package. The license concluded is the one stated, unless the audit objects to it: then nothing is asserted. The same
 * bill gives the same bytes.
 */
export async function billSpdx(bill: Bill, about: BillAbout): Promise<object> {
  const id = spdxIds();
  const packages = bill.revisions.map(revision => ({
    revision,
    id: id('Package', revision.id),
    files: (revision.files ?? []).map(file => ({ file, id: id('File', `${revision.id}-${file.path}`) })),
  }));
  const idOf = new Map(packages.map(({ revision, id: own }) => [revision.id, own]));
  const content = {
    spdxVersion: 'SPDX-2.3',
    dataLicense: 'CC0-1.0',
    SPDXID: 'SPDXRef-DOCUMENT',
    name: bill.revisions[0].id,
    creationInfo: {
      created: `${about.date}T00:00:00Z`,
      creators: [`Tool: kinprint-${about.version}`],
      comment: 'The date is that of the revision, so that the same content gives the same document.',
    },
    comment: `${authorsNote} ${noLegalAdvice}`,
    packages: packages.map(({ revision, id: own }) => spdxPackage(bill, revision, own, about)),
    files: packages.flatMap(({ revision, files }) =>
      files.map(({ file, id: own }) => spdxFile(revision, file, own)),
    ),
    ...extracted(bill),
    relationships: [
      related('SPDXRef-DOCUMENT', 'DESCRIBES', packages[0].id),
      ...packages.flatMap(({ revision, id: own, files }) => [
        ...files.map(file => related(own, 'CONTAINS', file.id)),
        ...madeFromSources(revision, files),
      ]),
      ...bill.links.flatMap(link => {
        const [from, to] = [idOf.get(link.from), idOf.get(link.to)];
        return from === undefined || to === undefined ? [] : [descends(link, from, to)];
      }),
    ],
  };
  return { ...content, documentNamespace: `urn:uuid:${await contentUuid(content)}` };
}

function spdxPackage(bill: Bill, revision: BillRevision, id: string, { credits }: BillAbout): object {
  const { address, letter, title, summary, date, digest, known, files, objections } = revision;
  const stated = wholeLicense(revision);
  const notices = copyrightLines(revision);
  // The work itself is credited with everything that it came from; an older one on its own.
  const main = revision === bill.revisions[0];
  const entries = main
    ? [credits.work, ...credits.from]
    : credits.from.filter(from => from.id === revision.id);
  const comments = [
    ...(digest === null ? [] : [`The digest of this revision is ${digest}.`]),
    ...(known ? [] : ['Nothing is known of this revision but its name.']),
    ...(revision.guessed
      ? ['Its manifest could not be had from history; what stands there now was taken.']
      : []),
    ...(revision.files_problem === null ? [] : [`Its files are not listed: ${revision.files_problem}`]),
  ];
  return {
    SPDXID: id,
    name: address,
    ...(letter === null ? {} : { versionInfo: letter }),
    summary: title,
    ...(summary === null ? {} : { description: summary }),
    downloadLocation: downloadAddress(revision) ?? 'NOASSERTION',
    primaryPackagePurpose: 'OTHER',
    ...(date === null ? {} : { releaseDate: `${date}T00:00:00Z` }),
    filesAnalyzed: files !== null,
    ...(revision.verification_code === null
      ? {}
      : { packageVerificationCode: { packageVerificationCodeValue: revision.verification_code } }),
    licenseConcluded: known && objections.length === 0 ? concluded(stated) : 'NOASSERTION',
    licenseDeclared: known ? concluded(stated) : 'NOASSERTION',
    ...licenseComments(stated, objections),
    copyrightText: notices.length === 0 ? 'NOASSERTION' : notices.join('\n'),
    ...(entries.length === 0 ? {} : { attributionTexts: entries.map(creditBlock) }),
    ...(comments.length === 0 ? {} : { comment: comments.join(' ') }),
  };
}

function spdxFile(revision: BillRevision, file: BillFile, id: string): object {
  const stated = fileLicense(revision, file);
  const notices = copyrightLines(revision, file);
  const names = namesOf(revision, file);
  return {
    SPDXID: id,
    fileName: `./${file.path}`,
    fileTypes: [fileType(revision, file)],
    checksums: [
      { algorithm: 'SHA1', checksumValue: file.sha1 },
      { algorithm: 'SHA256', checksumValue: file.sha256 },
    ],
    licenseConcluded: revision.objections.length === 0 ? concluded(stated) : 'NOASSERTION',
    // Licenses are stated in manifests; the files themselves were not searched.
    licenseInfoInFiles: ['NOASSERTION'],
    ...licenseComments(stated, []),
    copyrightText: notices.length === 0 ? 'NOASSERTION' : notices.join('\n'),
    ...(names.length === 0 ? {} : { fileContributors: names }),
  };
}

function fileType({ parts }: BillRevision, { path }: BillFile): 'SOURCE' | 'TEXT' | 'OTHER' {
  if (parts.some(part => part.sources.includes(path))) return 'SOURCE';
  return path === 'variant.yaml' ? 'TEXT' : 'OTHER';
}

/** NONE where no license is stated, as then none is granted (SPDX 2.3, clauses 7.13, 7.15). */
function concluded(stated: StatedLicense): string {
  switch (stated.kind) {
    case 'none':
      return 'NONE';
    case 'wrong':
      return 'NOASSERTION';
    case 'expression':
      return stated.text;
  }
}

function licenseComments(
  stated: StatedLicense,
  objections: readonly string[],
): { readonly licenseComments?: string } {
  const comments = [
    ...(stated.kind === 'wrong'
      ? [`The manifest says '${stated.text}', which is no license expression of SPDX 2.3.`]
      : []),
    ...(objections.length === 0 ? [] : [`The license audit objects: ${objections.join(', ')}.`]),
  ];
  return comments.length === 0 ? {} : { licenseComments: comments.join(' ') };
}

function related(from: string, relationshipType: string, to: string, comment?: string): object {
  return {
    spdxElementId: from,
    relationshipType,
    relatedSpdxElement: to,
    ...(comment === undefined ? {} : { comment }),
  };
}

/** Meshes of parts whose manifest names the editable models that they were made from. */
function madeFromSources(
  { parts }: BillRevision,
  files: readonly { readonly file: BillFile; readonly id: string }[],
): object[] {
  const ids = new Map(files.map(({ file, id }) => [file.path, id]));
  return parts.flatMap(({ mesh, sources }) =>
    sources.flatMap(source => {
      const [made, from] = [ids.get(mesh), ids.get(source)];
      return made === undefined || from === undefined ? [] : [related(made, 'GENERATED_FROM', from)];
    }),
  );
}

/** SPDX has a word for a copy; everything else that came from an older work is its descendant (clause 11.1). */
function descends({ relation, changes }: BillLink, from: string, to: string): object {
  const comment = `${relation}${changes === null ? '' : `: ${changes}`}`;
  return related(from, relation === 'copy' ? 'COPY_OF' : 'DESCENDANT_OF', to, comment);
}

/** Licenses outside the SPDX list, with the text that the nearest revision brings along (clause 10). */
function extracted({ revisions }: Bill): { readonly hasExtractedLicensingInfos?: readonly object[] } {
  const terms = revisions.flatMap(({ license, parts }) =>
    [license, ...parts.map(part => part.license)].flatMap((text): readonly Term[] => {
      const stated = statedLicense([text]);
      return stated.kind === 'expression' ? stated.terms : [];
    }),
  );
  const ids = [...new Set(terms.map(term => term.id).filter(id => id.startsWith('LicenseRef-')))].sort();
  if (ids.length === 0) return {};
  return {
    hasExtractedLicensingInfos: ids.map(licenseId => {
      const text = revisions.map(revision => revision.own_texts[licenseId]).find(own => own !== undefined);
      return {
        licenseId,
        name: licenseId.slice('LicenseRef-'.length),
        extractedText: text ?? `The registry names ${licenseId} and does not hold its text.`,
      };
    }),
  };
}

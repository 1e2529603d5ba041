import type { Bill, BillLink, BillRevision } from '@kinprint/registry';
import { noLegalAdvice, type CreditEntry } from '@kinprint/license';
import { creditBlock } from '../credits/credits-plain.ts';
import { webAddress } from '../credits/web-address.ts';
import type { BillAbout } from './about.ts';
import { authorsNote, copyrightLines, namesOf } from './copyright.ts';
import { contentUuid } from './document-id.ts';
import { fileLicense, wholeLicense, type StatedLicense } from './stated-license.ts';

/**
 * A revision and its lineage as a CycloneDX document, version 1.6 (ECMA-424, first edition), in JSON: the revision is the
 * component described, its files lie in it, and all that it came from is its pedigree. The same bill gives the same bytes.
 */
export async function billCycloneDx(bill: Bill, about: BillAbout): Promise<object> {
  const [main, ...older] = bill.revisions;
  const entries = new Map([about.credits.work, ...about.credits.from].map(entry => [entry.id, entry]));
  const ancestors = older.map(revision => component(revision, entries));
  const notes = [
    ...bill.links.map(said),
    ...about.credits.unknown.map(id => `Of ${id} nothing is known but its name.`),
  ];
  const described = {
    ...component(main, entries),
    ...(ancestors.length === 0 ? {} : { pedigree: { ancestors, notes: notes.join('\n') } }),
  };
  const content = {
    bomFormat: 'CycloneDX',
    specVersion: '1.6',
    version: 1,
    metadata: {
      timestamp: `${about.date}T00:00:00Z`,
      tools: { components: [{ type: 'application', name: 'kinprint', version: about.version }] },
      component: described,
      properties: [property('note', `${authorsNote} ${noLegalAdvice}`)],
    },
  };
  return {
    bomFormat: content.bomFormat,
    specVersion: content.specVersion,
    serialNumber: `urn:uuid:${await contentUuid(content)}`,
    version: content.version,
    metadata: content.metadata,
  };
}

function component(revision: BillRevision, entries: ReadonlyMap<string, CreditEntry>): object {
  const { id, address, letter, title, digest, files, objections } = revision;
  const names = namesOf(revision);
  const notices = copyrightLines(revision);
  const entry = entries.get(id);
  const references = referencesOf(revision, entry);
  const properties = [
    ...(digest === null ? [] : [property('digest', digest)]),
    ...(revision.known ? [] : [property('unknown', 'Nothing is known of this revision but its name.')]),
    ...(revision.guessed
      ? [property('guessed', 'Its manifest could not be had from history; what stands there now was taken.')]
      : []),
    ...(revision.files_problem === null ? [] : [property('files-not-listed', revision.files_problem)]),
    ...objections.map(code => property('audit-objects', code)),
    ...(entry === undefined ? [] : [property('attribution', creditBlock(entry))]),
  ];
  return {
    type: 'data',
    'bom-ref': id,
    name: address,
    ...(letter === null ? {} : { version: letter }),
    description: title,
    ...(names.length === 0 ? {} : { authors: names.map(name => ({ name })) }),
    ...licenses(wholeLicense(revision)),
    ...(notices.length === 0 ? {} : { copyright: notices.join('\n') }),
    ...(references.length === 0 ? {} : { externalReferences: references }),
    ...(files === null || files.length === 0
      ? {}
      : { components: files.map(file => fileComponent(revision, file)) }),
    ...(properties.length === 0 ? {} : { properties }),
  };
}

function fileComponent(revision: BillRevision, file: NonNullable<BillRevision['files']>[number]): object {
  const names = namesOf(revision, file);
  const notices = copyrightLines(revision, file);
  return {
    type: 'file',
    'bom-ref': `${revision.id}#${file.path}`,
    name: file.path,
    ...(names.length === 0 ? {} : { authors: names.map(name => ({ name })) }),
    hashes: [{ alg: 'SHA-256', content: file.sha256 }],
    ...licenses(fileLicense(revision, file)),
    ...(notices.length === 0 ? {} : { copyright: notices.join('\n') }),
  };
}

function licenses(stated: StatedLicense): { readonly licenses?: readonly object[] } {
  switch (stated.kind) {
    case 'none':
      return {};
    case 'wrong':
      return { licenses: [{ license: { name: stated.text, acknowledgement: 'declared' } }] };
    case 'expression':
      return { licenses: [{ expression: stated.text, acknowledgement: 'declared' }] };
  }
}

function referencesOf({ url }: BillRevision, entry: CreditEntry | undefined): object[] {
  const published = webAddress(url);
  const texts = new Set((entry?.licenses ?? []).flatMap(license => webAddress(license.url) ?? []));
  return [
    ...(published === null ? [] : [{ type: 'vcs', url: published }]),
    ...[...texts].map(url => ({ type: 'license', url })),
  ];
}

function said({ from, to, relation, changes }: BillLink): string {
  const link = relation === 'revision' ? `the letter after ${to}` : `a ${relation} of ${to}`;
  return `${from} is ${link}${changes === null ? '.' : `: ${changes}`}`;
}

function property(name: string, value: string): { readonly name: string; readonly value: string } {
  return { name: `kinprint:${name}`, value };
}

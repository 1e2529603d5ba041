import type {
  AdvisoryDocument,
  DeviceDocument,
  EvidenceDocument,
  RegistryDocument,
  SignoffDocument,
  VariantDocument,
} from './generated/types.ts';

/** The kinds of documents in a registry; each begins with `kinprint: <kind>/1`. */
export type DocumentKind = 'registry' | 'device' | 'variant' | 'advisory' | 'evidence' | 'signoff';

/** The type of each kind's content, generated from its schema. */
export interface Documents {
  readonly registry: RegistryDocument;
  readonly device: DeviceDocument;
  readonly variant: VariantDocument;
  readonly advisory: AdvisoryDocument;
  readonly evidence: EvidenceDocument;
  readonly signoff: SignoffDocument;
}

export const documentKinds: readonly DocumentKind[] = [
  'registry',
  'device',
  'variant',
  'advisory',
  'evidence',
  'signoff',
];

/** What a person calls a document of that kind. */
export const documentNames: Readonly<Record<DocumentKind, string>> = {
  registry: 'a registry',
  device: 'a device',
  variant: 'a variant',
  advisory: 'an advisory',
  evidence: 'a piece of evidence',
  signoff: 'a sign-off',
};

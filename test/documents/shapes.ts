/** What tests read of an SPDX document. */
export interface Spdx {
  readonly SPDXID: string;
  readonly name: string;
  readonly documentNamespace: string;
  readonly creationInfo: { readonly created: string; readonly creators: readonly string[] };
  readonly packages: readonly {
    readonly SPDXID: string;
    readonly name: string;
    readonly versionInfo?: string;
    readonly downloadLocation: string;
    readonly filesAnalyzed: boolean;
    readonly packageVerificationCode?: { readonly packageVerificationCodeValue: string };
    readonly licenseConcluded: string;
    readonly licenseDeclared: string;
    readonly licenseComments?: string;
    readonly copyrightText: string;
    readonly attributionTexts?: readonly string[];
    readonly comment?: string;
  }[];
  readonly files: readonly {
    readonly SPDXID: string;
    readonly fileName: string;
    readonly licenseConcluded: string;
    readonly copyrightText: string;
    readonly checksums: readonly { readonly algorithm: string; readonly checksumValue: string }[];
  }[];
  readonly hasExtractedLicensingInfos?: readonly {
    readonly licenseId: string;
    readonly extractedText: string;
  }[];
  readonly relationships: readonly {
    readonly spdxElementId: string;
    readonly relationshipType: string;
    readonly relatedSpdxElement: string;
    readonly comment?: string;
  }[];
}

/** What tests read of a component of a CycloneDX document. */
export interface Component {
  readonly 'bom-ref': string;
  readonly name: string;
  readonly version?: string;
  readonly authors?: readonly { readonly name: string }[];
  readonly licenses?: readonly {
    readonly expression?: string;
    readonly license?: { readonly name: string };
  }[];
  readonly hashes?: readonly { readonly alg: string; readonly content: string }[];
  readonly components?: readonly Component[];
  readonly pedigree?: { readonly ancestors: readonly Component[]; readonly notes: string };
  readonly properties?: readonly { readonly name: string; readonly value: string }[];
}

export interface CycloneDx {
  readonly serialNumber: string;
  readonly metadata: { readonly timestamp: string; readonly component: Component };
}

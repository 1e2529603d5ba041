import { ManifestError } from '../fault.ts';
import type { Author, DeviceDocument, Part, VariantDocument } from '../generated/types.ts';
import { tomlText, type TomlTable } from './toml.ts';

/** What an Open Know-How manifest says that a variant's own manifest does not. */
export interface OkhContext {
  /** The device that the variant belongs to: its purpose becomes `function`. */
  readonly device: DeviceDocument;
  /** Folder of the variant from the registry's root, e.g. `devices/cuff/small`. */
  readonly folder: string;
  /** http(s) address where the registry is developed. */
  readonly repo: string;
  /** What is exported: a revision's letter, or a commit's id. Collectors notice a change only when it changes. */
  readonly version: string;
  /** License of the registry for variants that name none. */
  readonly license?: string | null;
  /** Those who hold the rights where the variant names no authors, e.g. the registry's maintainers. */
  readonly maintainers?: readonly Author[];
  /** BCP 47 tag of the language that titles and texts are written in; left out where not known. */
  readonly language?: string;
  /** Outer dimensions of the parts as they stand in their meshes, by the part's id; left out where not known. */
  readonly sizes_mm?: ReadonlyMap<string, readonly [number, number, number]>;
}

/**
 * The version label that is written. The standard has three spellings: specification and schema say `OKH-LOSHv1.0`, the
 * newer template `2.4`, the YAML form of 2019 `OKHv1.0`.
 */
export const okhVersion = '2.4';

/**
 * A variant as an Open Know-How manifest (`okh.toml`, TOML 1.0), after the specification, schema and template of
 * iop-alliance/OpenKnowHow. Paths begin with a slash and count from the registry's root. What is not known is left out;
 * no license at all is told as `LicenseRef-AllRightsReserved`, by the standard's convention.
 *
 * @throws ManifestError `export-incomplete` when nobody is named who holds the rights, or `repo` is no http(s) address:
 *   the standard asks for both
 */
export function okhManifest(variant: VariantDocument, context: OkhContext): string {
  const { device, repo, version, language } = context;
  if (!/^https?:\/\/[^\s]+$/.test(repo))
    throw new ManifestError(
      'export-incomplete',
      `'${repo}' is no http(s) address of a repository.`,
      'Give the address where the registry is published.',
    );
  if (version.trim() === '')
    throw new ManifestError(
      'export-incomplete',
      'There is no version to name.',
      'Record a revision, or give a commit.',
    );
  const licensors = names(variant.authors, context.maintainers);
  if (licensors.length === 0)
    throw new ManifestError(
      'export-incomplete',
      'Nobody is named who holds the rights.',
      "Add 'authors' to the variant, or 'maintainers' to the registry.",
    );
  const path = (file: string): string => `/${context.folder === '' ? '' : `${context.folder}/`}${file}`;
  const license = variant.license ?? context.license ?? 'LicenseRef-AllRightsReserved';
  const materials = [...new Set(variant.parts.map(part => part.material))];
  const table: TomlTable = {
    okhv: okhVersion,
    name: `${device.title}: ${variant.title}`,
    repo,
    version,
    license,
    licensor: licensors.length === 1 ? licensors[0] : licensors,
    function: device.purpose,
    'documentation-language': language,
    tsdc: ['3DP'],
    // Describes the whole: told where all parts agree.
    material: materials.length === 1 ? materials[0] : undefined,
    bom: variant.hardware !== undefined && variant.hardware.length > 0 ? path('variant.yaml') : undefined,
    source: [...new Set(variant.parts.flatMap(part => part.source ?? []))].map(path),
    export: [...new Set(variant.parts.map(part => part.mesh))].map(path),
    part: variant.parts.map(part => partTable(part, path, context.sizes_mm?.get(part.id))),
  };
  return `# Open Know-How manifest; the version label follows the newer template of the standard.\n${tomlText(table)}`;
}

function partTable(
  part: Part,
  path: (file: string) => string,
  size: readonly [number, number, number] | undefined,
): TomlTable {
  return {
    name: part.title ?? part.id,
    source: (part.source ?? []).map(path),
    export: [path(part.mesh)],
    tsdc: ['3DP'],
    'outer-dimensions': size === undefined ? undefined : { width: size[0], depth: size[1], height: size[2] },
  };
}

function names(authors: readonly Author[] | undefined, maintainers: readonly Author[] | undefined): string[] {
  const named = authors !== undefined && authors.length > 0 ? authors : (maintainers ?? []);
  return [...new Set(named.map(author => author.name))];
}

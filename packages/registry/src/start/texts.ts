import type { DocumentComments } from '@kinprint/manifest';

/** The line that keeps bytes as they are: digests are taken of them. */
export const attributes = 'devices/** -text';

export const attributesText = `# Files of devices are kept byte for byte: git converts no line ends, so that digests are the same everywhere.
${attributes}
`;

export const registryComments: DocumentComments = {
  '': `What this registry is called. Further keys, all optional:
  license      of variants that name none
  printers     id and build_volume_mm, so that check can tell which parts fit
  materials    id and density_g_cm3, price_per_kg
  sources      other registries: name: { git: https://… }
  policy       who must sign off before a revision counts as vetted`,
};

export const devicesReadme = `# Devices

    <device>/device.yaml                what it is for
    <device>/<variant>/variant.yaml     parts, license, authors, print settings
    <device>/<variant>/parts/           meshes: STL, 3MF, OBJ, PLY
    <device>/<variant>/source/          editable models, any format

Names of folders: lower-case letters, digits, hyphens.
`;

export function rootReadme(name: string): string {
  return `# ${name.replace(/[\\`*_{}[\]<>#|]/g, '\\$&')}

A registry of printable devices and their variants.

    kinprint check                      what is wrong or missing
    kinprint show DEVICE/VARIANT        one variant: who made it, parts, license, revisions
    kinprint record DEVICE/VARIANT      fix what is there as the next revision
    kinprint derive DEVICE/VARIANT NEW  begin a new variant from another
    kinprint lineage                    which variant came from which

Nothing here is a medical device unless someone licensed says so. Have an occupational therapist, prosthetist or
other licensed clinician look at fit and use, check the skin after use, and follow local rules.
`;
}

import type { DocumentKind } from '@kinprint/manifest';

const digest = `sha256:${'0a'.repeat(32)}`;
const variant = 'kinprint: variant/1\ntitle: T\n';
const advisory =
  'kinprint: advisory/1\nid: a\ntitle: T\npublished: 2026-03-14\nseverity: serious\nsummary: S\naction: Stop using it.\n';
const evidence = `kinprint: evidence/1\nkind: load-test\ndigest: ${digest}\nrevision: cuff/small@B\ndate: 2026-03-14\nby: A\n`;
const signoff = `kinprint: signoff/1\ndigest: ${digest}\nrevision: cuff/small@B\nrole: clinician\nby: A\ndate: 2026-03-14\nstatement: Seen.\n`;

/** Documents of each kind that fit their schema, and such as break one rule each. */
export const samples: Readonly<
  Record<DocumentKind, { readonly good: readonly string[]; readonly bad: readonly string[] }>
> = {
  registry: {
    good: [
      'kinprint: registry/1\nname: Cuffs\n',
      'kinprint: registry/1\nname: Cuffs\nsources: { other: { git: https://example.org/other.git } }\nprinters:\n  - { id: small, build_volume_mm: [180, 180, 180] }\nmaterials:\n  - { id: pla, density_g_cm3: 1.24, price_per_kg: { value: 20, currency: EUR } }\npolicy: { vetting: { signoffs: [{ role: clinician, count: 2 }] } }\n',
    ],
    bad: [
      'kinprint: registry/1\n',
      'kinprint: registry/1\nname: Cuffs\nsources: { Other: { git: x } }\n',
      'kinprint: registry/1\nname: Cuffs\nprinters: [{ id: small, build_volume_mm: [180, 180] }]\n',
      'kinprint: registry/1\nname: Cuffs\nmaterials: [{ id: pla, density_g_cm3: 0 }]\n',
    ],
  },
  device: {
    good: ['kinprint: device/1\ntitle: Cuff\npurpose: Holds a spoon.\nlinks: [https://example.org/cuff]\n'],
    bad: [
      'kinprint: device/1\ntitle: Cuff\n',
      'kinprint: device/2\ntitle: Cuff\npurpose: P\n',
      'kinprint: device/1\ntitle: Cuff\npurpose: P\nlinks: [ftp://example.org]\n',
    ],
  },
  variant: {
    good: [
      `${variant}parts: []\n`,
      `${variant}parts:\n  - { id: shell, mesh: parts/shell left.stl, print: { walls: 3, up: -x }, interfaces: [{ id: hinge, kind: bore, nominal_mm: 3.2 }] }\nderivations: [{ from: 'other:cuff/small@AB', relation: remix }]\nrevisions: [{ letter: A, digest: '${digest}', date: 2024-02-29 }]\n`,
    ],
    bad: [
      `${variant}`,
      `${variant}parts: {}\n`,
      `${variant}parts: [{ id: a, mesh: /a.stl }]\n`,
      `${variant}parts: [{ id: a, mesh: parts/../a.stl }]\n`,
      `${variant}parts: [{ id: a, mesh: parts/.a.stl }]\n`,
      `${variant}parts: [{ id: a, mesh: 'a\\b.stl' }]\n`,
      `${variant}parts: [{ id: a, mesh: a.stl, quantity: 1.5 }]\n`,
      `${variant}parts: [{ id: a, mesh: a.stl, print: { infill_percent: 101 } }]\n`,
      `${variant}parts: [{ id: a, mesh: a.stl, print: { layer_height_mm: .nan } }]\n`,
      `${variant}parts: []\nrevisions: [{ letter: I, digest: '${digest}', date: 2026-01-01 }]\n`,
      `${variant}parts: []\nrevisions: [{ letter: A, digest: '${digest}', date: 2023-02-29 }]\n`,
      `${variant}parts: []\nderivations: [{ from: cuff/small, relation: remix }]\n`,
      `${variant}parts: []\ncautions: ["bell \\a"]\n`,
    ],
  },
  advisory: {
    good: [
      `${advisory}affects: [{ variant: cuff/small, letters: [A, B], parts: [strap] }]\n`,
      `${advisory}affects: [{ variant: cuff/small, from: B }, { variant: 'other:cuff/large' }]\nwithdrawn: { date: 2026-04-01, reason: Mistaken. }\n`,
    ],
    bad: [
      `${advisory}affects: []\n`,
      `${advisory}affects: [{ variant: cuff/small, letters: [A], from: B }]\n`,
      `${advisory}affects: [{ variant: cuff/small, letters: [A, A] }]\n`,
      `${advisory.replace('serious', 'bad')}affects: [{ variant: cuff/small }]\n`,
    ],
  },
  evidence: {
    good: [
      `${evidence}findings: It held.\nmeasurements: [{ what: load at failure, value: 120.5, unit: N }]\nattachments: [{ path: photo.jpg, sha256: ${'0f'.repeat(32)} }]\n`,
    ],
    bad: [`${evidence}`, `${evidence}findings: F\nattachments: [{ path: photo.jpg, sha256: short }]\n`],
  },
  signoff: {
    good: [
      `${signoff}decision: accept\n`,
      `${signoff}decision: accept-with-conditions\nconditions: [Only with the pad.]\n`,
    ],
    bad: [`${signoff}decision: maybe\n`, `${signoff}decision: accept-with-conditions\n`],
  },
};

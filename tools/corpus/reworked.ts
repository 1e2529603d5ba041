import type { Kernel } from '@kinprint/solid';
import { buildMesh, cuffShell, hingeLeaf, lugLength } from '../demo/shapes/index.ts';
import type { CorpusCase } from './case.ts';
import { bossPlate, bracket, cup, cupSkinVolume, linkBar, polygonArea, sheet } from './plain-parts.ts';
import { mapped, motion, stay, withHoles } from './transform.ts';

const none = [1, 1, 1] as const;
const shellSides = 48;

/** Two lugs bored narrower: what stays between the two polygons. */
const narrowerBores = 2 * lugLength * (polygonArea(3.2, shellSides) - polygonArea(3.0, shellSides));

/** Parts that changed in one place, where they stand or moved as well. */
export function reworkedCases(kernel: Kernel): CorpusCase[] {
  const shell = buildMesh(kernel, cuffShell());
  const narrower = buildMesh(kernel, cuffShell({ hingeBore: 3.0 }));
  const bossMoved = buildMesh(kernel, cuffShell({ hingeBore: 3.0, bossAt: 7 }));
  const elsewhere = motion([1, 2, -0.5], 73, [120, -45, 31]);
  const far = motion([0.3, -1, 2], 141, [1000, 800, -600]);
  const bores = [{ kind: 'bore', diameter_before_mm: 3.2, diameter_after_mm: 3.0, count: 2 }] as const;
  const narrowerVolume = {
    added_mm3: narrowerBores,
    removed_mm3: 0,
    relative: 2e-3,
    source: 'closed form: two lugs of 6 mm between regular 48-gons of 3.2 and 3.0 mm',
  };
  const plate = buildMesh(kernel, bossPlate(-4));
  const plateMoved = buildMesh(kernel, bossPlate(-2));
  const bossVolume = {
    added_mm3: 36,
    removed_mm3: 36,
    relative: 1e-4,
    source: 'closed form: 2 × 6 × 3 on either side of the boss',
  };
  const growth = {
    added_mm3: 12 * 14 * 6 + 3 * 14 * 3,
    removed_mm3: 3 * 14 * 3,
    relative: 1e-3,
    source:
      'closed form: 12 mm more of the bar; the block at its end stands 12 mm further out, the two bores cancel',
  };
  const bar = buildMesh(kernel, linkBar(60));
  const longer = buildMesh(kernel, linkBar(72));
  const plain = buildMesh(kernel, bracket());
  const ribbed = buildMesh(kernel, bracket({ gusset: true }));
  const cut = buildMesh(kernel, bracket({ cut: true }));
  const leaf = buildMesh(kernel, hingeLeaf());
  const leafFine = buildMesh(kernel, hingeLeaf({ segments: 72, hingeBore: 2.8 }));

  return [
    {
      name: 'bore narrower in place',
      before: shell,
      after: narrower,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
        volume: narrowerVolume,
        deviation: {
          max_mm: 0.1,
          within_mm: 1e-4,
          source: 'closed form: the corners lie on the circles, 0.1 mm apart',
        },
        regions: { added: 2, removed: 0 },
        changed: bores,
      },
    },
    {
      name: 'moved and bore narrower',
      before: shell,
      after: mapped(narrower, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        volume: narrowerVolume,
        regions: { added: 2, removed: 0 },
        changed: bores,
      },
    },
    {
      name: 'far away and bore narrower',
      before: shell,
      after: mapped(narrower, far),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: far, mirrored: false, scale: none, rotation_deg: 141 },
        volume: { ...narrowerVolume, relative: 2e-2 },
        changed: bores,
      },
    },
    {
      name: 'moved, bore narrower, boss shifted 2 mm',
      before: shell,
      after: mapped(bossMoved, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        changed: bores,
      },
    },
    {
      name: 'boss shifted 2 mm, same volume and facet count',
      before: plate,
      after: plateMoved,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
        volume: bossVolume,
        regions: { added: 1, removed: 1 },
      },
    },
    {
      name: 'moved and boss shifted 2 mm',
      before: plate,
      after: mapped(plateMoved, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        volume: { ...bossVolume, relative: 1e-3 },
        regions: { added: 1, removed: 1 },
      },
    },
    {
      name: 'size variant, length grown',
      before: bar,
      after: longer,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
        volume: growth,
      },
    },
    {
      name: 'moved size variant, length grown',
      before: bar,
      after: mapped(longer, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        volume: growth,
      },
    },
    {
      name: 'moved and rib added',
      before: plain,
      after: mapped(ribbed, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        volume: {
          added_mm3: ((13.5 * 13.5) / 2) * 3,
          removed_mm3: 0,
          relative: 1e-3,
          source: 'closed form: a right triangle with legs 13.5, 3 thick, outside both plates',
        },
        regions: { added: 1, removed: 0 },
      },
    },
    {
      name: 'moved and window cut into the wall',
      before: plain,
      after: mapped(cut, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        volume: {
          added_mm3: 0,
          removed_mm3: 4 * 6 * 7,
          relative: 1e-3,
          source: 'closed form: 4 × 6 × 7, open at the top',
        },
        regions: { added: 0, removed: 1 },
      },
    },
    {
      name: 'outside grown by 0.4 mm, inside unchanged, moved',
      before: buildMesh(kernel, cup(0)),
      after: mapped(buildMesh(kernel, cup(0.4)), elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        volume: {
          added_mm3: cupSkinVolume(0.4),
          removed_mm3: 0,
          relative: 1e-3,
          source: 'closed form: difference of two boxes',
        },
      },
    },
    {
      name: 'thin sheet moved, one hole wider',
      before: buildMesh(kernel, sheet(6)),
      after: mapped(buildMesh(kernel, sheet(6.6)), motion([0, 0, 1], 25, [14, 3, 0])),
      expect: {
        verdicts: ['reworked'],
        alignment: {
          kinds: ['rigid'],
          map: motion([0, 0, 1], 25, [14, 3, 0]),
          mirrored: false,
          scale: none,
          rotation_deg: 25,
        },
        volume: {
          added_mm3: 0,
          removed_mm3: 0.8 * (polygonArea(6.6, 40) - polygonArea(6, 40)),
          relative: 1e-3,
          source: 'closed form: 0.8 mm between regular 40-gons of 6.6 and 6 mm',
        },
        changed: [{ kind: 'bore', diameter_before_mm: 6, diameter_after_mm: 6.6, count: 1 }],
      },
    },
    {
      name: 'thin sheet tipped over, one hole wider',
      before: buildMesh(kernel, sheet(6)),
      after: mapped(buildMesh(kernel, sheet(6.6)), elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 73 },
        changed: [{ kind: 'bore', diameter_before_mm: 6, diameter_after_mm: 6.6, count: 1 }],
      },
    },
    {
      name: 'finer facets, moved, bore narrower',
      before: leaf,
      after: mapped(leafFine, elsewhere),
      tolerance_mm: 0.03,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, within_mm: 0.06, mirrored: false, scale: none },
        changed: [{ kind: 'bore', diameter_before_mm: 3.2, diameter_after_mm: 2.8, count: 1 }],
      },
    },
    {
      name: 'an open export with its bore narrowed',
      before: shell,
      after: withHoles(narrower, 7, 5),
      expect: {
        verdicts: ['unsound'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
        changed: bores,
      },
    },
  ];
}

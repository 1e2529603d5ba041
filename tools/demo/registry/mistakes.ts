import { writeStlBinary } from '@kinprint/mesh';
import type { Kernel } from '@kinprint/solid';
import { box, buildMesh } from '../shapes/index.ts';
import { bucklePart, leafPart, shellPart } from './cuff-parts.ts';

/**
 * What somebody sends in a hurry, on the branch `submission`: two variants with the mistakes that `check` explains.
 * Path to content.
 */
export function mistakes(kernel: Kernel): ReadonlyMap<string, Uint8Array | string> {
  const inHurry = 'devices/utensil-cuff/right-60';
  const withTray = 'devices/utensil-cuff/right-58-tray';
  return new Map<string, Uint8Array | string>([
    [
      `${inHurry}/variant.yaml`,
      `# yaml-language-server: $schema=../../../schemas/variant.schema.json
kinprint: variant/1
title: Utensil cuff, right hand, 60 mm
licence: CC-BY-SA-4.0
authors:
  - name: Wim Hazelgard
    roles: [concept]
parts:
  - id: shell
    mesh: parts/shell.stl
    quantity: 0
    print:
      layer_hight_mm: 0.2
`,
    ],
    [`${inHurry}/parts/shell.stl`, writeStlBinary(shellPart(kernel, { palmBreadth: 60 }).mesh)],
    [
      `${withTray}/variant.yaml`,
      `# yaml-language-server: $schema=../../../schemas/variant.schema.json
kinprint: variant/1
title: Utensil cuff with a tray, right hand, 58 mm
license: CC-BY-SA-4
authors:
  - name: Wim Hazelgard
    roles: [x-mechanical-design]
derivations:
  - from: utensil-cuff/right-58@F          # there is no such letter
    relation: remix
    changes: A tray that the cuff rests on.
  - from: utensil-cuff/right-58-rib@B      # the digest is not that of B
    digest: sha256:0000000000000000000000000000000000000000000000000000000000000000
    relation: combination
    changes: The rib.
parts:
  - id: shell
    mesh: parts/shell.stl
    material: petg
    interfaces:
      - id: hinge-bore
        kind: bore
        nominal_mm: 3.2                      # the mesh has 3.0
        count: 2
        scale: hold
        mates: hardware/hinge-screw
  - id: leaf
    mesh: parts/leaf.stl
    material: nylon
  - id: tray
    mesh: parts/tray.stl
    material: petg
  - id: clip
    mesh: parts/clip.stl                     # was never sent
hardware:
  - id: strap
    title: Hook and loop strap, 20 mm wide
    quantity: 0.3
    unit: m
`,
    ],
    [`${withTray}/parts/shell.stl`, writeStlBinary(shellPart(kernel, { hingeBore: 3.0, bossAt: 7 }).mesh)],
    [`${withTray}/parts/leaf.stl`, withoutFaces(writeStlBinary(leafPart(kernel).mesh), 3)],
    [`${withTray}/parts/tray.stl`, writeStlBinary(buildMesh(kernel, box(310, 190, 6)))],
    [`${withTray}/parts/buckle-old.stl`, writeStlBinary(bucklePart(kernel).mesh)],
  ]);
}

/** A binary STL file whose first faces were lost: an open mesh. */
function withoutFaces(stl: Uint8Array, count: number): Uint8Array {
  const rest = new Uint8Array(stl.length - 50 * count);
  rest.set(stl.subarray(0, 84));
  rest.set(stl.subarray(84 + 50 * count), 84);
  const view = new DataView(rest.buffer);
  view.setUint32(80, view.getUint32(80, true) - count, true);
  return rest;
}

/** The variant whose leaf comes reworked on the branch `submission`. */
export const reworkedVariant = 'utensil-cuff/right-62';

/**
 * A leaf whose knuckle was made 13 mm long, for a stiffer hinge, where the shell's lugs leave 12 mm between them: alone it
 * is in order, put together it interferes with both.
 */
export function reworkedLeaf(kernel: Kernel): ReadonlyMap<string, Uint8Array> {
  const { part, mesh } = leafPart(kernel, { hingeBore: 3.0, length: 34, knuckle: 13 });
  return new Map([[`devices/${reworkedVariant}/${part.mesh}`, writeStlBinary(mesh)]]);
}

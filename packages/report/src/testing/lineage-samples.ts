import {
  bareNode,
  type LineageEdge,
  type LineageGraph,
  type LineageNode,
  type Relation,
} from '@kinprint/registry';

const alphabet = 'ABCDEFGHJKLMNPRTUVWY';

/** The k-th letter from 0. */
export function letterAt(k: number): string {
  return k < 20 ? alphabet[k] : alphabet[Math.floor(k / 20) - 1] + alphabet[k % 20];
}

export interface SampleVariant {
  readonly address: string;
  readonly title?: string;
  readonly letters?: number;
  readonly from?: readonly (readonly [string, Exclude<Relation, 'revision'>])[];
  readonly more?: Partial<LineageNode>;
}

/** A lineage of invented variants; what they derive from is there, or becomes a missing node. */
export function sampleLineage(variants: readonly SampleVariant[]): LineageGraph {
  const nodes = new Map<string, LineageNode>();
  const edges: LineageEdge[] = [];
  variants.forEach(({ address, title, letters = 1, from = [], more = {} }, v) => {
    const plain: LineageNode = {
      id: address,
      address,
      letter: null,
      title: title ?? address,
      license: 'CC-BY-SA-4.0',
      authors: ['Mira Solheim'],
      hand: null,
      fit: null,
      date: null,
      by: null,
      digest: null,
      status: 'unrecorded',
      ...more,
    };
    const ids = Array.from({ length: letters }, (_, k) => `${address}@${letterAt(k)}`);
    ids.forEach((id, k) => {
      nodes.set(id, {
        ...plain,
        id,
        letter: letterAt(k),
        date: `20${20 + (v % 6)}-0${1 + (k % 9)}-1${v % 10}`,
        by: plain.authors[0] ?? null,
        digest: `sha256:${String(v * 1000 + k).padStart(64, '0')}`,
        status: 'recorded',
      });
      if (k > 0) edges.push(edge(id, ids[k - 1], 'revision'));
    });
    if (letters === 0) nodes.set(address, plain);
    for (const [older, relation] of from) edges.push(edge(ids[0] ?? address, older, relation));
  });
  for (const { to } of edges)
    if (!nodes.has(to)) {
      const [address, letter] = to.split('@');
      nodes.set(to, bareNode(address, letter ?? null, 'missing'));
    }
  return { nodes: [...nodes.values()], edges };
}

function edge(from: string, to: string, relation: Relation): LineageEdge {
  return {
    from,
    to,
    relation,
    changes: relation === 'remix' ? 'A stiffening rib around the band.' : null,
    otherDigest: false,
  };
}

const palm = (base_mm: number) => ({ fit: { body_measure: 'hand-breadth', base_mm } });

/** Twelve variants of an invented lending group: mirrored hands, sizes, two remixes, a combination, a copy, loose ends. */
export const lendingGroup: LineageGraph = sampleLineage([
  {
    address: 'utensil-cuff/right-58',
    title: 'Utensil cuff, right hand, 58 mm',
    letters: 3,
    more: { hand: 'right', authors: ['Mira Solheim', 'Jonah Okeke'], ...palm(58) },
  },
  {
    address: 'utensil-cuff/left-58',
    title: 'Utensil cuff, left hand, 58 mm',
    letters: 2,
    from: [['utensil-cuff/right-58@B', 'mirror']],
    more: { hand: 'left', authors: ['Mira Solheim', 'Jonah Okeke', 'Ines Carvalho'], ...palm(58) },
  },
  {
    address: 'utensil-cuff/right-58-rib',
    title: 'Utensil cuff with a rib, right hand, 58 mm',
    letters: 2,
    from: [['utensil-cuff/right-58@B', 'remix']],
    more: { hand: 'right', authors: ['Mira Solheim', 'Teo Laakso'], ...palm(58) },
  },
  {
    address: 'utensil-cuff/right-58-quick-strap',
    title: 'Utensil cuff with a quick strap, right hand, 58 mm',
    letters: 2,
    from: [['utensil-cuff/right-58@A', 'remix']],
    more: { hand: 'right', license: 'CC-BY-4.0', authors: ['Mira Solheim', 'Sanna Virta'], ...palm(58) },
  },
  {
    address: 'utensil-cuff/right-58-calm',
    title: 'Utensil cuff, rib and quick strap together',
    letters: 4,
    from: [
      ['utensil-cuff/right-58-rib@B', 'combination'],
      ['utensil-cuff/right-58-quick-strap@A', 'combination'],
    ],
    more: {
      hand: 'right',
      authors: ['Mira Solheim', 'Teo Laakso', 'Sanna Virta', 'Wim de Roo'],
      ...palm(58),
    },
  },
  {
    address: 'utensil-cuff/left-58-calm',
    title: 'Utensil cuff, rib and quick strap together, left hand',
    letters: 1,
    from: [['utensil-cuff/right-58-calm@C', 'mirror']],
    more: { hand: 'left', ...palm(58) },
  },
  {
    address: 'utensil-cuff/right-62',
    title: 'Utensil cuff, right hand, 62 mm',
    letters: 2,
    from: [['utensil-cuff/right-58@C', 'rescale']],
    more: { hand: 'right', ...palm(62) },
  },
  {
    address: 'utensil-cuff/left-62',
    title: 'Utensil cuff, left hand, 62 mm',
    letters: 1,
    from: [['utensil-cuff/right-62@A', 'mirror']],
    more: { hand: 'left', ...palm(62) },
  },
  {
    address: 'utensil-cuff/right-72',
    title: 'Utensil cuff, right hand, 72 mm, for teenagers',
    letters: 0,
    from: [['utensil-cuff/right-62@B', 'rescale']],
    more: { hand: 'right', ...palm(72) },
  },
  {
    address: 'pen-cuff/both-54',
    title: 'Pen cuff',
    letters: 1,
    from: [['utensil-cuff/right-58-quick-strap@B', 'remix']],
    more: { hand: 'both', license: 'CC-BY-SA-4.0 AND CC0-1.0', ...palm(54) },
  },
  {
    address: 'pen-cuff/brush',
    title: 'Pen cuff for wide brushes',
    letters: 1,
    from: [
      ['pen-cuff/both-54@A', 'copy'],
      ['utensil-cuff/left-58@D', 'remix'],
    ],
    more: { license: null, hand: 'both' },
  },
  { address: 'bottle-loop/plain', title: 'Bottle loop', letters: 1, more: { authors: [] } },
]);

/** A lineage of `n` variants, each from an earlier one, by a fixed rule. */
export function manyVariants(n: number): LineageGraph {
  const address = (k: number): string => `device-${Math.floor(k / 500)}/variant-${k}`;
  const kinds = ['remix', 'mirror', 'rescale', 'copy', 'combination'] as const;
  return sampleLineage(
    Array.from({ length: n }, (_, k): SampleVariant => {
      const parent = (k * 7919) % Math.max(1, Math.ceil(k * 0.7));
      const second = (k * 104729) % Math.max(1, k);
      const kind = kinds[k % 5];
      return {
        address: address(k),
        title: `Variant ${k} of a device that has been taken further`,
        letters: 1 + (k % 4),
        from:
          k === 0
            ? []
            : kind === 'combination'
              ? [
                  [`${address(parent)}@A`, kind],
                  [`${address(second)}@A`, kind],
                ]
              : [[`${address(parent)}@A`, kind]],
        more: { hand: k % 2 === 0 ? 'left' : 'right', ...palm(50 + (k % 30)) },
      };
    }),
  );
}

import type { VariantDocument } from '@kinprint/manifest';
import type { Soundness } from '@kinprint/mesh';
import type { VariantState } from '../../state/types.ts';
import type { PartFacts, PartLook } from '../facts.ts';
import { inManifest, type Finding } from '../finding.ts';
import { listing, place } from '../words.ts';

/** Meshes that cannot be read, hold no volume, or have flaws that some slicing programs stumble over. */
export function meshFindings(
  variant: VariantState,
  manifest: VariantDocument,
  looks: readonly (PartLook | null)[],
): Finding[] {
  return manifest.parts.flatMap((part, k): Finding[] => {
    const look = looks[k];
    const say = (code: Parameters<typeof inManifest>[1], text: string, remedy: string): Finding =>
      inManifest(variant, code, ['parts', k, 'mesh'], text, remedy, part.id);
    switch (look?.state) {
      case undefined:
      case 'absent': // told with the files
        return [];
      case 'unreadable':
        return [say('mesh-unreadable', `'${part.mesh}': ${look.error.message}`, look.error.remedy)];
      case 'failed':
        return [
          say(
            'check-failed',
            `The program failed on '${part.mesh}': ${look.text.split('\n')[0]}`,
            'Please report it with the file.',
          ),
        ];
      case 'measured':
        return ofFacts(look.facts, say);
    }
  });
}

type Say = (
  code: 'mesh-no-volume' | 'mesh-inside-out' | 'mesh-flaws' | 'mesh-crosses-itself' | 'mesh-unit-doubtful',
  text: string,
  remedy: string,
) => Finding;

function ofFacts(facts: PartFacts, say: Say): Finding[] {
  const { soundness: s, volume_mm3: volume } = facts;
  const findings: Finding[] = [];
  const note = (code: string): string | undefined => facts.notes.find(n => n.code === code)?.text;
  if (volume === null) {
    const why = facts.notes.find(n => n.about === 'volume_mm3')?.text ?? 'It is no closed surface.';
    findings.push(
      say(
        'mesh-no-volume',
        `The mesh has no volume. ${why}${firstPlace(s, ['boundary_edges', 'flipped_edges', 'nonmanifold_edges'])}`,
        'Close the surface, with all faces outward, in the program it comes from and export it again.',
      ),
    );
  } else if (volume <= 0) {
    findings.push(
      say(
        'mesh-inside-out',
        volume < 0 ? 'The mesh is inside out: its faces point inward.' : 'The mesh encloses nothing.',
        volume < 0 ? 'Turn its faces outward.' : 'Export a solid.',
      ),
    );
  }
  const flaws = flawWords(s);
  if (volume !== null && flaws.length > 0)
    findings.push(
      say(
        'mesh-flaws',
        `The mesh has ${listing(flaws)}.${firstPlace(s, ['nonmanifold_edges', 'duplicate_faces', 'degenerate_faces', 'inverted_shells'])}`,
        'Let the program it comes from clean the mesh.',
      ),
    );
  if (s.self_intersections !== null && s.self_intersections > 0)
    findings.push(
      say(
        'mesh-crosses-itself',
        `The surface crosses or overlaps itself: ${counted(s.self_intersections, 'pair')} of faces.${firstPlace(s, ['self_intersections'])}`,
        'Unite the bodies in the program it comes from.',
      ),
    );
  const doubtful = note('unit-suspect');
  if (doubtful !== undefined)
    findings.push(
      say(
        'mesh-unit-doubtful',
        doubtful,
        'State the unit of the mesh with unit:, or export it in millimeters.',
      ),
    );
  return findings;
}

function flawWords(s: Soundness): string[] {
  return [
    [s.nonmanifold_edges, 'edge with more than two faces', 'edges with more than two faces'],
    [s.duplicate_faces, 'doubled face', 'doubled faces'],
    [s.degenerate_faces, 'face without area', 'faces without area'],
    [s.inverted_shells, 'inverted shell', 'inverted shells'],
  ].flatMap(([n, one, many]) => (Number(n) > 0 ? [`${n} ${Number(n) === 1 ? one : many}`] : []));
}

function counted(n: number, one: string): string {
  return `${n} ${n === 1 ? one : `${one}s`}`;
}

function firstPlace(s: Soundness, keys: readonly string[]): string {
  const at = keys.map(key => s.places_mm[key]?.[0]).find(p => p !== undefined);
  return at === undefined ? '' : ` First at ${place(at)} mm.`;
}

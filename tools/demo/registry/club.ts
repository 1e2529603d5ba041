import type { Kernel } from '@kinprint/solid';
import { bucklePart, clipPart, leafPart, otherHand, restPart, shellPart, sleevePart } from './cuff-parts.ts';
import { ines, livia, oskar } from './people.ts';
import { by, first, fit, hardware, watched, type Step } from './scenario.ts';

const nd = 'CC-BY-ND-4.0';
const notice = `Palm rest, by Livia Marchbank. CC-BY-ND-4.0.
Drawn for the Harbor Street hand group. Please keep this file beside every copy.
`;

/**
 * What a club of parents adds in its first summer. Every letter is in order for \`check\`; the audit finds what licenses
 * ask for and nobody did: a palm rest changed that may only be copied, without its notice; a changed cuff under an
 * older license that does not say what was changed; a copied part that lost its license; somebody not named whom the
 * work between forgot as well.
 */
export function clubSteps(kernel: Kernel): Step[] {
  const [buckle, clip, sleeve] = [bucklePart(kernel), clipPart(kernel), sleevePart(kernel)];
  const tight = { hingeBore: 3.0, bossAt: 7 };
  const rest = restPart(kernel);
  const { license: _, ...unlabeled } = rest.part;
  const shell70 = shellPart(kernel, { ...tight, scale: 1.2 });
  const leaf70 = leafPart(kernel, { hingeBore: 3.0, scale: 1.2 });
  const shell62 = shellPart(kernel, { ...tight, palmBreadth: 62, palmThickness: 27.5 });
  const forgetful = [first, by(ines, 'x-mechanical-design'), by(oskar, 'x-mechanical-design')];
  const large = {
    title: 'Utensil cuff, right hand, 70 mm',
    license: 'CC-BY-SA-4.0',
    hardware,
    fit: fit(70),
  };
  const scaled = {
    from: 'utensil-cuff/right-65@A',
    relation: 'rescale',
    changes: 'Scaled once more; hinge, strap and utensil bores kept at size.',
  } as const;
  return [
    {
      kind: 'record',
      address: 'palm-rest/soft-70',
      by: livia,
      date: '2025-06-28T10:00:00+02:00',
      manifest: { title: 'Palm rest, 70 mm', license: nd, authors: [by(livia, 'x-mechanical-design')] },
      parts: [rest],
      files: { NOTICE: notice },
    },
    {
      kind: 'record',
      address: 'palm-rest/soft-78',
      by: oskar,
      date: '2025-07-05T21:30:00+02:00',
      manifest: {
        title: 'Palm rest, 78 mm',
        license: nd,
        authors: [by(livia, 'x-mechanical-design'), by(oskar, 'x-mechanical-design')],
      },
      derivations: [{ from: 'palm-rest/soft-70@A', relation: 'remix', changes: 'Longer, and thicker.' }],
      parts: [restPart(kernel, { length: 78, thickness: 11 })],
    },
    {
      kind: 'record',
      address: 'utensil-cuff/right-62-rest',
      by: oskar,
      date: '2025-07-12T20:00:00+02:00',
      manifest: {
        title: 'Utensil cuff with a palm rest, right hand, 62 mm',
        license: 'CC-BY-SA-3.0',
        authors: [
          first,
          watched,
          by(ines, 'x-mechanical-design'),
          by(livia, 'x-mechanical-design'),
          by(oskar, 'x-mechanical-design'),
        ],
        hardware,
        fit: fit(62),
      },
      derivations: [
        { from: 'utensil-cuff/right-62@A', relation: 'remix' },
        { from: 'palm-rest/soft-70@A', relation: 'combination', changes: 'The rest taken as it is.' },
      ],
      parts: [shell62, leafPart(kernel, { hingeBore: 3.0, length: 34, width: 25 }), buckle, clip, sleeve, { ...rest, part: unlabeled }],
      files: { NOTICE: notice },
    },
    {
      kind: 'record',
      address: 'utensil-cuff/right-70',
      by: oskar,
      date: '2025-07-19T19:00:00+02:00',
      manifest: { ...large, authors: forgetful },
      derivations: [scaled],
      parts: [shell70, leaf70, buckle, clip, sleeve],
    },
    {
      kind: 'record',
      address: 'utensil-cuff/left-70',
      by: oskar,
      date: '2025-07-26T19:00:00+02:00',
      manifest: { ...large, title: 'Utensil cuff, left hand, 70 mm', authors: forgetful },
      derivations: [
        {
          from: 'utensil-cuff/right-70@A',
          relation: 'mirror',
          changes: 'Shell and leaf mirrored; the other parts as they were.',
        },
      ],
      parts: [otherHand(shell70), otherHand(leaf70), buckle, clip, sleeve],
    },
    {
      // Jonah was missing, and was put in on the right; the left hand was made before.
      kind: 'record',
      address: 'utensil-cuff/right-70',
      by: ines,
      date: '2025-08-02T09:00:00+02:00',
      manifest: {
        ...large,
        authors: [first, watched, ...forgetful.slice(1)],
        cautions: ['Round the edges at the thumb with sandpaper before the first trial.'],
      },
      derivations: [scaled],
      parts: [shell70, leaf70, bucklePart(kernel, { opening: 7 }), clip, sleeve],
    },
  ];
}

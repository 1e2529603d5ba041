import type { Declared, KinAnswer, KinRelative, KinReport } from '@kinprint/registry';
import { paints, wrap, type Style } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';

/** One block for each relative, the strongest first: where it is registered, what it is, what the lineage says of it. */
export function kinText(report: KinReport, style: Style): string {
  const lines = report.answers.flatMap(answer => [...answerLines(answer, style), '']);
  const left = [
    report.unreadable > 0 ? `${plural(report.unreadable, 'mesh', 'meshes')} could not be read.` : '',
    report.letters_missing > 0
      ? `The content of ${plural(report.letters_missing, 'recorded letter')} was not looked through.`
      : '',
  ];
  const looked = `Looked through ${plural(report.looked, 'different mesh', 'different meshes')} of ${clean(report.registry)}.`;
  return [...lines, ...wrap([looked, ...left].filter(Boolean).join(' '), style.columns)].join('\n');
}

function answerLines({ name, relatives }: KinAnswer, style: Style): string[] {
  const title = paints(style).bold(clean(name));
  if (relatives.length === 0) return [title, '  No relatives found.'];
  return [title, ...relatives.flatMap(relative => relativeLines(relative, style))];
}

function relativeLines(relative: KinRelative, style: Style): string[] {
  const paint = paints(style);
  const inner = style.columns - 4;
  const { relation, mirrored, scale } = relative.kinship;
  const also = [
    relation === 'reworked' && scale !== 1 ? 'rescaled' : '',
    relation !== 'mirrored' && mirrored ? 'mirrored' : '',
  ];
  const word = [relation.replace('-', ' '), ...also.filter(Boolean)].join(', ');
  const bodies = [
    relative.query_body === null ? '' : `body ${relative.query_body + 1} of it`,
    relative.body === null ? '' : `body ${relative.body + 1} of the relative`,
  ].filter(Boolean);
  return [
    `  ${paint.cyan(word)}`,
    ...relative.places.flatMap(({ address, part, letter, declared }) =>
      wrap(
        `${clean(address)}${letter === null ? '' : `@${clean(letter)}`} part ${clean(part)}${declared === null ? '' : ` – ${declaredWords[declared]}`}`,
        inner,
      ).map(line => `    ${line}`),
    ),
    ...wrap(`${relative.evidence}${bodies.length === 0 ? '' : ` (${bodies.join(', ')})`}`, inner).map(
      line => `    ${paint.dim(line)}`,
    ),
  ];
}

const declaredWords: Readonly<Record<Declared, string>> = {
  'same-variant': 'the same variant',
  ancestor: 'declared as ancestor',
  descendant: 'declared as descendant',
  'common-ancestor': 'declared: a common ancestor',
  'not-declared': 'not declared',
};

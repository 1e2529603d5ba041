import type { ReviewFinding } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { findingAbout, findingPlaceWords, findingWord } from '../review/finding-words.ts';

/** Findings as a list of a page. */
export function findingList(findings: readonly ReviewFinding[]): string {
  return element('ul', { class: 'findings' }, findings.map(item).join('\n'));
}

function item(finding: ReviewFinding): string {
  const place = findingPlaceWords(finding);
  const about = findingAbout(finding);
  const where = [
    about === '' ? '' : xml(about),
    place === null ? '' : element('span', { class: 'mono' }, xml(place)),
    element('span', { class: 'mono' }, xml(finding.code)),
  ].filter(Boolean);
  return element(
    'li',
    finding.blocks ? { class: 'stops' } : {},
    [
      element('span', { class: 'what' }, xml(findingWord(finding))),
      element('span', {}, xml(finding.text)),
      finding.remedy === '' ? '' : element('span', { class: 'more soft' }, xml(`To do: ${finding.remedy}`)),
      element('span', { class: 'more fine' }, where.join(' · ')),
    ].join(''),
  );
}

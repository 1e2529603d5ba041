import type { ReviewFinding } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { findingPlaceWords } from '../review/review-words.ts';
import { severityWords } from './words.ts';

/** Findings as a list of a page. */
export function findingList(findings: readonly ReviewFinding[]): string {
  return element('ul', { class: 'findings' }, findings.map(item).join('\n'));
}

function item(finding: ReviewFinding): string {
  const { variant, part } = finding;
  const place = findingPlaceWords(finding);
  const about = [variant, part].filter(each => each !== null).join('/');
  const where = [
    about === '' ? '' : xml(about),
    place === null ? '' : element('span', { class: 'mono' }, xml(place)),
    element('span', { class: 'mono' }, xml(finding.code)),
  ].filter(Boolean);
  const word = finding.blocks ? 'blocks' : severityWords[finding.severity];
  return element(
    'li',
    finding.blocks ? { class: 'stops' } : {},
    [
      element('span', { class: 'what' }, xml(word)),
      element('span', {}, xml(finding.text)),
      finding.remedy === '' ? '' : element('span', { class: 'more soft' }, xml(finding.remedy)),
      element('span', { class: 'more fine' }, where.join(' · ')),
    ].join(''),
  );
}

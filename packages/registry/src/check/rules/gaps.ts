import type { HistoryGap } from '../../history/gaps.ts';
import { registryFile } from '../../state/registry-files.ts';
import { finding, inFile, type Finding } from '../finding.ts';

/** What of the history could not be read: letters recorded there, and contents, are not known. */
export function gapFindings(gaps: readonly HistoryGap[]): Finding[] {
  return gaps.map(({ text, remedy }) => finding('history-unread', inFile(registryFile), text, remedy));
}

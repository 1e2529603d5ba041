import { presentContent, revisionContent, type StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import type { LineageNode } from '../lineage/types.ts';
import type { RegistryState } from '../state/types.ts';

/**
 * The content of a revision, or in a sentence why it cannot be had.
 *
 * @throws InputError as `revisionContent`
 */
export async function nodeContent(
  state: RegistryState,
  history: StateHistory,
  { address, letter, status }: LineageNode,
): Promise<RevisionContent | string> {
  if (address.includes(':')) return 'It lies in another registry, whose files were not read.';
  const variant = state.variants.get(address);
  if (variant === undefined || status === 'missing') return 'It is not in the registry.';
  if (variant.document.value === null) return 'Its manifest cannot be read.';
  if (letter === null) return presentContent(state, variant);
  const found = await revisionContent(state, address, letter, history);
  return found.found ? found.content : found.text;
}

import { revisionContent, type StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import type { RegistryWorks } from '../licenses/works-of.ts';
import type { LineageNode } from '../lineage/types.ts';
import type { RegistryState } from '../state/types.ts';

/**
 * The content of a revision, of this registry or of another that is at hand; else in a sentence why it cannot be had.
 *
 * @throws InputError as `revisionContent`
 */
export async function nodeContent(
  state: RegistryState,
  history: StateHistory,
  { contents }: RegistryWorks,
  { id, address, letter, status }: LineageNode,
): Promise<RevisionContent | string> {
  const known = contents.get(id);
  if (known !== undefined) return known;
  if (address.includes(':'))
    return status === 'elsewhere'
      ? 'It lies in another registry, which is not at hand.'
      : 'It is not to be had from the other registry in which it lies.';
  const variant = state.variants.get(address);
  if (variant === undefined || letter === null || status === 'missing') return 'It is not in the registry.';
  if (variant.document.value === null) return 'Its manifest cannot be read.';
  const found = await revisionContent(state, address, letter, history);
  return found.found ? found.content : found.text;
}

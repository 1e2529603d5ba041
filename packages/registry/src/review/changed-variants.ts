import { byText } from '@kinprint/compare';
import type { RegistryFiles, FileRef } from '../state/registry-files.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import type { VariantReview } from './types.ts';

/** A variant that is not the same on both sides. */
export interface ChangedVariant {
  readonly address: string;
  readonly change: VariantReview['change'];
  readonly before: VariantState | null;
  readonly after: VariantState | null;
}

/** Variants whose manifest or files differ; changed ones first, then added, then removed, each by address. */
export async function changedVariants(
  before: RegistryState,
  after: RegistryState,
): Promise<ChangedVariant[]> {
  const found: ChangedVariant[] = [];
  for (const address of new Set([...before.variants.keys(), ...after.variants.keys()])) {
    const was = before.variants.get(address) ?? null;
    const is = after.variants.get(address) ?? null;
    if (was !== null && is !== null && (await sameVariant(before.files, was, after.files, is))) continue;
    const change = was === null ? 'added' : is === null ? 'removed' : 'changed';
    found.push({ address, change, before: was, after: is });
  }
  const order = ['changed', 'added', 'removed'];
  return found.sort(
    (a, b) => order.indexOf(a.change) - order.indexOf(b.change) || byText(a.address, b.address),
  );
}

async function sameVariant(
  oldFiles: RegistryFiles,
  was: VariantState,
  newFiles: RegistryFiles,
  is: VariantState,
): Promise<boolean> {
  if (was.document.text !== is.document.text || was.files.length !== is.files.length) return false;
  for (const [k, old] of was.files.entries()) {
    const now = is.files[k];
    if (old.path !== now.path || old.problem?.code !== now.problem?.code) return false;
    if (!(await sameFile(oldFiles, old, newFiles, now))) return false;
  }
  return true;
}

async function sameFile(
  oldFiles: RegistryFiles,
  old: FileRef,
  newFiles: RegistryFiles,
  now: FileRef,
): Promise<boolean> {
  if (old.id !== null && now.id !== null) return old.id === now.id;
  if (old.problem !== null || now.problem !== null) return old.size === now.size;
  return (await oldFiles.sha256(old)) === (await newFiles.sha256(now));
}

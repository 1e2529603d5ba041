import type { Hardware, VariantDocument } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { takesName } from '../assembly/compare-assemblies.ts';
import { instancesOf } from '../assembly/instances.ts';
import { judgeMates } from '../assembly/judge-mates.ts';
import type { Cache } from '../cache/cache.ts';
import type { PartLook } from '../check/facts.ts';
import { measureParts, type MeshWanted } from '../check/measure-parts.ts';
import { nearPlanes } from '../check/near-planes.ts';
import { presentContent, revisionContent, variantOf, type StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import { unfinishedRecord } from '../record/unfinished.ts';
import { standing, unusableManifest } from '../state/digest.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import type { Cost, PageStanding, PartLine, VariantPage } from './variant-page.ts';

/**
 * Gathers what there is to say of a variant: its manifest, its parts measured, how it stands to what was recorded.
 *
 * @param letter a recorded revision, read from history; null for the present content
 * @throws InputError `variant-unknown`, `letter-unknown`, `manifest-unusable`, `content-missing`
 */
export async function showVariant(
  state: RegistryState,
  address: string,
  letter: string | null,
  history: StateHistory,
  cache: Cache,
): Promise<VariantPage> {
  return pageOf(state, await shownContent(state, address, letter, history), letter, cache);
}

/** @param letter as it was asked for */
export async function pageOf(
  state: RegistryState,
  { variant, now, content, manifest }: Shown,
  letter: string | null,
  cache: Cache,
): Promise<VariantPage> {
  const { address } = variant;
  const registry = state.registry?.value ?? null;
  const device = state.devices.get(variant.device)?.document?.value ?? null;
  const present = await standing(state, address);
  const unfinished = await unfinishedRecord(state, variant);
  const license = manifest.license ?? registry?.license ?? null;
  const stands: PageStanding = {
    status: present.status,
    last: present.last?.letter ?? null,
    reason: present.reason,
    unfinished: unfinished?.letter ?? null,
  };
  return {
    address,
    letter,
    registry: registry?.name ?? null,
    device: device === null ? null : { title: device.title, purpose: device.purpose },
    title: manifest.title,
    summary: manifest.summary ?? null,
    license,
    license_from: manifest.license !== undefined ? 'variant' : license === null ? null : 'registry',
    authors: manifest.authors ?? [],
    derivations: manifest.derivations ?? [],
    ...(await measuredParts(content, manifest, cache)),
    hardware: manifest.hardware ?? [],
    costs: costsOf(manifest.hardware ?? []),
    without_cost: (manifest.hardware ?? []).filter(item => item.unit_cost === undefined).map(item => item.id),
    assembly: manifest.assembly ?? [],
    fit: manifest.fit ?? null,
    cautions: cautionsOf(state, manifest, device?.cautions ?? []),
    revisions: now.revisions ?? [],
    standing: stands,
    digest:
      letter === null
        ? present.digest
        : (now.revisions?.find(entry => entry.letter === letter)?.digest ?? null),
    commit: content.commit,
    folder: content.folder,
  };
}

/** What is shown: a variant with its present manifest, and the content asked for with its own. */
export interface Shown {
  readonly variant: VariantState;
  readonly now: VariantDocument;
  readonly content: RevisionContent;
  readonly manifest: VariantDocument;
}

/** @throws InputError as `showVariant` */
export async function shownContent(
  state: RegistryState,
  address: string,
  letter: string | null,
  history: StateHistory,
): Promise<Shown> {
  const variant = variantOf(state, address);
  const now = variant.document.value;
  if (now === null) throw unusableManifest(variant);
  if (letter === null) return { variant, now, content: presentContent(state, variant), manifest: now };
  const found = await revisionContent(state, address, letter, history);
  const manifest = found.found ? found.content.document.value : null;
  if (found.found && manifest !== null) return { variant, now, content: found.content, manifest };
  throw new InputError(
    'content-missing',
    `The content of ${address}@${letter} cannot be had: ${found.found ? 'its manifest cannot be read.' : found.text}`,
    'Fetch the whole history, or show a later letter.',
    { file: variant.document.file },
  );
}

async function measuredParts(
  content: RevisionContent,
  manifest: VariantDocument,
  cache: Cache,
): Promise<Pick<VariantPage, 'parts' | 'clearances'>> {
  const refs = new Map(content.refs.map(ref => [ref.path.slice(content.folder.length + 1), ref]));
  const wanted: MeshWanted[] = [];
  const places = manifest.parts.map(part => {
    const ref = refs.get(part.mesh);
    return ref === undefined ? null : wanted.push({ ref, unit: part.unit ?? null }) - 1;
  });
  const found = await measureParts(content.files, wanted, { cache });
  const looks = places.map(place => (place === null ? null : found[place]));
  const parts = manifest.parts.map((part, k): PartLine => {
    const look = looks[k];
    const base = { ...part, quantity: part.quantity ?? 1 };
    return look === null
      ? { ...base, ...nothing, problem: 'The mesh is missing.' }
      : { ...base, ...figuresOf(look) };
  });
  const meshes = places.map(place => (place === null ? null : wanted[place]));
  const planes = await nearPlanes(content.files, manifest, meshes, looks, { cache });
  const { placed } = instancesOf(manifest, looks);
  const clearances = judgeMates(manifest, looks, placed, planes).mates.map(({ mate }) => ({
    seat: `${mate.seat.part}/${mate.seat.interface}`,
    takes: takesName(mate),
    declared: mate.declared,
    clearance_mm: mate.clearance_mm,
    verdict: mate.verdict,
  }));
  return { parts, clearances };
}

const nothing = { size_mm: null, volume_mm3: null, triangles: null } as const;

function figuresOf(look: PartLook): Pick<PartLine, 'size_mm' | 'volume_mm3' | 'triangles' | 'problem'> {
  switch (look.state) {
    case 'measured': {
      const { bounds_mm, volume_mm3, triangles } = look.facts;
      return { size_mm: bounds_mm?.size ?? null, volume_mm3, triangles, problem: null };
    }
    case 'unreadable':
      return { ...nothing, problem: look.error.message };
    case 'absent':
      return { ...nothing, problem: look.problem.text };
    case 'failed':
      return { ...nothing, problem: look.text };
  }
}

/** Sums in hundred-thousandths, so that ten times 0.1 is 1. */
function costsOf(hardware: readonly Hardware[]): Cost[] {
  const sums = new Map<string, number>();
  for (const { unit_cost, quantity } of hardware) {
    if (unit_cost === undefined) continue;
    sums.set(unit_cost.currency, (sums.get(unit_cost.currency) ?? 0) + unit_cost.value * quantity);
  }
  return [...sums]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([currency, value]) => ({ currency, value: Math.round(value * 1e5) / 1e5 }));
}

function cautionsOf(state: RegistryState, manifest: VariantDocument, device: readonly string[]): string[] {
  const used = new Set(manifest.parts.map(part => part.material));
  const materials = state.registry?.value?.materials ?? [];
  const ofMaterials = materials.filter(item => used.has(item.id)).flatMap(item => item.cautions ?? []);
  return [...new Set([...(manifest.cautions ?? []), ...device, ...ofMaterials])];
}

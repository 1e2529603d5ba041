import type { Finding } from '../check/finding.ts';
import { checkRegistry } from '../check/check-registry.ts';
import type { OpenCheck } from '../check/open-check.ts';
import { vettingFindings } from '../check/rules/vetting.ts';
import { wholeFindings } from '../check/rules/whole.ts';
import { auditRegistry } from '../licenses/audit-registry.ts';
import type { PlacedFinding } from '../licenses/finding-places.ts';
import { worksOf, type RegistryWorks } from '../licenses/works-of.ts';
import { registryFile } from '../state/registry-files.ts';
import type { ReviewFinding } from './types.ts';

/** What the checks find after and did not find before. */
export async function newChecks(
  before: OpenCheck,
  after: OpenCheck,
  addresses: readonly string[],
): Promise<ReviewFinding[]> {
  const found = async (open: OpenCheck): Promise<Finding[]> => [
    ...(await checked(open, addresses)),
    // Those of the whole registry that name no variant are not among them.
    ...wholeFindings(open.state).filter(({ variant }) => variant === null),
    // A sign-off may come for a variant that is not touched.
    ...(await vettingFindings(open.state, variant => variant === null || !addresses.includes(variant))),
  ];
  const known = new Set((await found(before)).map(keyOfCheck));
  // While registry.yaml is broken nothing is judged as it should be, whoever broke it.
  const broken = ({ file, severity }: Finding): boolean => file === registryFile && severity === 'error';
  return (await found(after)).filter(each => broken(each) || !known.has(keyOfCheck(each))).map(ofCheck);
}

/** What the checks find of variants. */
export async function checksOf(open: OpenCheck, addresses: readonly string[]): Promise<ReviewFinding[]> {
  return (await checked(open, addresses)).map(ofCheck);
}

async function checked(
  { state, options }: OpenCheck,
  addresses: readonly string[],
): Promise<readonly Finding[]> {
  const variants = addresses.filter(address => state.variants.has(address));
  return variants.length === 0 ? [] : (await checkRegistry(state, { ...options, variants })).findings;
}

function keyOfCheck({ code, variant, part, file, text }: Finding): string {
  return [code, variant, part, file, text].join('\n');
}

function ofCheck({
  code,
  severity,
  text,
  remedy,
  variant,
  part,
  file,
  line,
  column,
}: Finding): ReviewFinding {
  return { origin: 'check', code, severity, blocks: false, text, remedy, variant, part, file, line, column };
}

export interface AuditWish {
  readonly published: string | null;
  /** Whether shapes are looked at. */
  readonly shapes: boolean;
}

/** What the license audit finds after and did not find before. */
export async function newAudits(
  before: OpenCheck,
  after: OpenCheck,
  addresses: readonly string[],
  wish: AuditWish,
): Promise<NewAudits> {
  const known = new Set((await audited(before, addresses, wish)).findings.map(keyOfAudit));
  const { findings, works } = await audited(after, addresses, wish);
  return { findings: findings.filter(each => !known.has(keyOfAudit(each))), works };
}

export interface NewAudits {
  readonly findings: readonly PlacedFinding[];
  /** The lineage after; null where none of the variants is there. */
  readonly works: RegistryWorks | null;
}

/** What the license audit finds of variants. */
export async function auditsOf(
  open: OpenCheck,
  addresses: readonly string[],
  wish: AuditWish,
): Promise<ReviewFinding[]> {
  return (await audited(open, addresses, wish)).findings.map(ofAudit);
}

async function audited(
  open: OpenCheck,
  addresses: readonly string[],
  { published, shapes }: AuditWish,
): Promise<NewAudits> {
  const { state, history } = open;
  if (!addresses.some(address => state.variants.has(address))) return { findings: [], works: null };
  const works = await worksOf(state, history, { published, sources: await open.openedSources() });
  const targets = addresses.flatMap(address => works.heads.get(address) ?? []);
  const report = await auditRegistry(state, history, works, {
    published,
    shapes,
    cache: open.options.cache,
    targets,
  });
  return { findings: report.works.flatMap(work => work.findings), works };
}

/** Letters move on: what was found of B is known of C. */
function keyOfAudit({ code, work, part, path }: PlacedFinding): string {
  return [code, work.split('@')[0], part, ...path.map(({ to }) => to.split('@')[0])].join('\n');
}

export function ofAudit({
  code,
  severity,
  text,
  remedy,
  work,
  part,
  file,
  line,
  column,
}: PlacedFinding): ReviewFinding {
  const variant = work.split('@')[0];
  return { origin: 'audit', code, severity, blocks: false, text, remedy, variant, part, file, line, column };
}

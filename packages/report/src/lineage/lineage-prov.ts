import { byText } from '@kinprint/compare';
import type { LineageGraph, LineageNode } from '@kinprint/registry';

type Value = string | { readonly $: string; readonly type: string } | readonly Value[];
type Section = Record<string, Readonly<Record<string, Value>>>;

/**
 * A lineage as PROV-JSON (W3C member submission, 2013): revisions are entities and specializations of their variant;
 * every link is a derivation, of type prov:Revision where a letter follows a letter; a mirror image is an alternate of
 * what it mirrors; the authors of a variant are agents. Agents have no type: a name may be a person's or a group's.
 */
export function lineageProv(graph: LineageGraph): object {
  const entity: Section = {};
  const agent: Section = {};
  const wasDerivedFrom: Section = {};
  const wasAttributedTo: Section = {};
  const specializationOf: Section = {};
  const alternateOf: Section = {};
  const variants = new Map<string, LineageNode>();
  for (const node of graph.nodes) variants.set(node.address, node);

  for (const [address, node] of variants) {
    entity[variantId(address)] = { 'prov:label': `${node.title}, any revision` };
    for (const name of new Set(node.authors)) {
      agent[agentId(name)] = { 'prov:label': name };
      add(wasAttributedTo, 'a', { 'prov:entity': variantId(address), 'prov:agent': agentId(name) });
    }
  }
  for (const node of graph.nodes) {
    entity[revisionId(node.id)] = {
      'prov:label':
        node.letter === null ? `${node.title}, unrecorded` : `${node.title}, revision ${node.letter}`,
      'kin:status': node.status,
      ...(node.license === null ? {} : { 'kin:license': node.license }),
      ...(node.digest === null ? {} : { 'kin:digest': node.digest }),
      ...(node.date === null ? {} : { 'kin:date': { $: node.date, type: 'xsd:date' } }),
      ...(node.by === null ? {} : { 'kin:recordedBy': node.by }),
    };
    add(specializationOf, 's', {
      'prov:specificEntity': revisionId(node.id),
      'prov:generalEntity': variantId(node.address),
    });
  }
  for (const { from, to, relation, changes } of graph.edges) {
    add(wasDerivedFrom, 'd', {
      'prov:generatedEntity': revisionId(from),
      'prov:usedEntity': revisionId(to),
      ...(relation === 'revision' ? { 'prov:type': { $: 'prov:Revision', type: 'xsd:QName' } } : {}),
      'kin:relation': relation,
      ...(changes === null ? {} : { 'kin:changes': changes }),
    });
    if (relation === 'mirror')
      add(alternateOf, 'm', { 'prov:alternate1': revisionId(from), 'prov:alternate2': revisionId(to) });
  }
  const sections = { entity, agent, wasDerivedFrom, wasAttributedTo, specializationOf, alternateOf };
  const filled = Object.entries(sections).filter(([, section]) => Object.keys(section).length > 0);
  return { prefix, ...Object.fromEntries(filled.map(([name, section]) => [name, sorted(section)])) };
}

/** Names of ours within the document; they need not lead anywhere. */
const prefix = {
  kin: 'https://example.org/kinprint/ns#',
  rev: 'https://example.org/kinprint/revision/',
  var: 'https://example.org/kinprint/variant/',
  agent: 'https://example.org/kinprint/agent/',
  xsd: 'http://www.w3.org/2001/XMLSchema#',
} as const;

const revisionId = (id: string): string => `rev:${local(id)}`;
const variantId = (address: string): string => `var:${local(address)}`;
const agentId = (name: string): string => `agent:${local(name)}`;

/** The local part of a qualified name: all but letters, digits, `-`, `_`, `.` and `/` percent-encoded as UTF-8 (RFC 3986). */
function local(text: string): string {
  return encodeURIComponent(text.toWellFormed())
    .replace(/[!'()*~]/g, c => `%${c.charCodeAt(0).toString(16).toUpperCase()}`)
    .replaceAll('%2F', '/');
}

function add(section: Section, kind: string, attributes: Readonly<Record<string, Value>>): void {
  section[`_:${kind}${Object.keys(section).length + 1}`] = attributes;
}

function sorted(section: Section): Section {
  const blank = Object.keys(section).every(key => key.startsWith('_:'));
  return blank ? section : Object.fromEntries(Object.entries(section).sort(([a], [b]) => byText(a, b)));
}

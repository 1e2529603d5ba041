import { nearest } from './nearest.ts';

/**
 * Words that people write, and the role of ANSI/NISO Z39.104-2022 (CRediT) that comes nearest. The list has no role
 * for mechanical design, print testing or clinical advice; this mapping is our own suggestion.
 */
const everyday: Readonly<Record<string, string>> = {
  design: 'conceptualization',
  designer: 'conceptualization',
  idea: 'conceptualization',
  model: 'methodology',
  modeling: 'methodology',
  modeler: 'methodology',
  cad: 'methodology',
  engineer: 'methodology',
  engineering: 'methodology',
  calculation: 'formal-analysis',
  analysis: 'formal-analysis',
  testing: 'investigation',
  tester: 'investigation',
  trial: 'investigation',
  research: 'investigation',
  check: 'validation',
  review: 'validation',
  reviewer: 'validation',
  printing: 'resources',
  printer: 'resources',
  materials: 'resources',
  funding: 'funding-acquisition',
  sponsor: 'funding-acquisition',
  maintainer: 'project-administration',
  coordination: 'project-administration',
  management: 'project-administration',
  lead: 'supervision',
  mentor: 'supervision',
  therapist: 'supervision',
  clinician: 'supervision',
  photos: 'visualization',
  drawings: 'visualization',
  data: 'data-curation',
  code: 'software',
  programming: 'software',
  writing: 'writing-original-draft',
  documentation: 'writing-original-draft',
  author: 'writing-original-draft',
  translation: 'writing-original-draft',
  editing: 'writing-review-editing',
  editor: 'writing-review-editing',
};

/** The role that a word most likely means; null when none is near. */
export function roleHint(word: string, roles: readonly string[]): string | null {
  const plain = word.trim().toLowerCase();
  return (Object.hasOwn(everyday, plain) ? everyday[plain] : undefined) ?? nearest(word, roles);
}

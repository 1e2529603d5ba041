import { sampleLineage } from '../../packages/report/src/testing/lineage-samples.ts';

/** Ends strings, tags, comments, attributes and escapes in everything a lineage is written as. */
export const hostileTitle = `"] --> x; \\" </text></script><img src=x onerror=alert(1)> %% \`{{}}|end| #35; &quot; '*_~`;

export const hostileLineage = sampleLineage([
  { address: 'cuff/plain', title: 'Plain', letters: 2 },
  { address: 'cuff/hostile', title: hostileTitle, letters: 2, from: [['cuff/plain@A', 'remix']] },
  { address: 'cuff/end', title: 'end', letters: 1, from: [['cuff/hostile@B', 'mirror']] },
  { address: 'subgraph/graph', title: '\\', letters: 1, from: [['cuff/end@A', 'copy']] },
]);

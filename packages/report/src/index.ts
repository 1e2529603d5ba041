export * from './terminal/words.ts';
export * from './terminal/layout.ts';
export * from './terminal/measure-text.ts';
export * from './terminal/compare-text.ts';
export * from './terminal/verdict-text.ts';
export * from './terminal/tree-text.ts';
export * from './terminal/complaint.ts';
export * from './json/json.ts';

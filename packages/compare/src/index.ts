export * from './comparison.ts';
export * from './defaults.ts';
export * from './trees/types.ts';

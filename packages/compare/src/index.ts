export * from './comparison.ts';
export * from './defaults.ts';

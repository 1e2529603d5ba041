export * from './comparison.ts';

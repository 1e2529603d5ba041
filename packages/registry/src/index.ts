export * from './defaults.ts';
export * from './snapshot/types.ts';
export { fileSource } from './snapshot/file-source.ts';

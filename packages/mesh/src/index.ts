export * from './types.ts';
export * from './error.ts';
export * from './bytes.ts';
export * from './measurement.ts';

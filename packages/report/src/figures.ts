import type { FileMeasurement } from '@kinprint/mesh';

/** A file's figures: of the whole, and of each object where it holds several. The mesh itself is not needed here. */
export type FileFigures = Pick<FileMeasurement, 'whole' | 'objects'>;

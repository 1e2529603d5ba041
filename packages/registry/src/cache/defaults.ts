/** Bounds of the cache, each with its reason. */
export const cacheDefaults = {
  /** All values of one kind together; the oldest go first. A measured part takes about 3 kB: some 40 000 parts. */
  maxBytesPerKind: 128 * 1024 ** 2,
  /** A larger value is not worth keeping: reading it would cost what making it costs. */
  maxValueBytes: 4 * 1024 ** 2,
  /** Pending values are written when they are so large together, so that little is lost with a killed run. */
  pendingBytes: 1024 ** 2,
  /** … or when the last writing was so long ago. */
  pendingTime_ms: 5_000,
  /** From so many files of one kind on they are joined into one. */
  maxSegments: 12,
  /**
   * A file changed within this time before it was hashed may change again without its times showing it. File systems
   * tell times to 2 s (FAT) or better; git calls such entries racy (git's Documentation/technical/racy-git).
   */
  racy_ms: 2_500,
} as const;

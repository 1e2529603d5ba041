/** Limits of reading files and repositories, each with its reason. */
export const registryDefaults = {
  /** Endings of files that may be meshes; what a file really is, its content decides. Common practice, no source. */
  meshEndings: ['.stl', '.3mf', '.obj', '.ply'],
  /** Folders that hold what others made; hidden ones are left out as well. Common practice, no source. */
  skippedFolders: ['node_modules'],
  /** A binary STL of 40 million triangles; larger files are named, not read. */
  maxFileBytes: 2 * 1024 ** 3,
  /** Content from git up to this size stays in memory, larger content goes through a file in the temporary folder. */
  maxMemoryBytes: 256 * 1024 ** 2,
  /** Folders and files looked at in one tree. A commit can name endless folders with a few small objects. */
  maxTreeEntries: 1_000_000,
  /** Commits and names in folders looked at in a history in which something is damaged; some 10 s of work. */
  maxHistoryEntries: 10_000_000,
  /** Mesh files in one tree. */
  maxMeshFiles: 100_000,
  /** Deeper folders are not entered. Paths of the usual file systems end at 4096 bytes. */
  maxDepth: 256,
  /** A name of a file: bytes on the usual file systems (ext4, NTFS: 255). */
  maxNameBytes: 255,
  /** A pointer to large-file storage is shorter than this, says its specification. */
  lfsPointerBytes: 1024,
  /** Documents are written by hand; readDocument has the same bound. 40 000 lines of YAML take seconds to read. */
  maxDocumentBytes: 1024 ** 2,
  /** A git call that only resolves a name takes milliseconds; a repository that stalls it is given up. */
  gitTimeout_ms: 30_000,
  /** Writing hashes and compresses a variant's meshes: seconds for a gigabyte on a slow disk. */
  gitWriteTimeout_ms: 600_000,
  /** A first fetch of a registry with its history, over a slow line. */
  fetchTimeout_ms: 1_800_000,
  /** A fetched source with its history on disk: a registry of 10 000 parts and some versions of each. No source. */
  maxSourceBytes: 4 * 1024 ** 3,
  /** How often a commit is tried again when others commit to the branch at the same time. */
  commitTries: 20,
  /** Below this much content in all, workers cost more to start (about 0.2 s each) than they save: a comparison of two small files takes about as long. */
  workerBytes: 512 * 1024,
  /** From so many triangles on, in one file or two that are compared, threads share the work; see docs/decisions/0006. */
  crewTriangles: 100_000,
  /** A single file beyond is measured by one thread: two hold more at a time than eight times the file (0006). */
  crewFileTriangles: 1_000_000,
  /**
   * Booleans are given up after this long and so much more for each triangle; without a limit, a stranger's file keeps
   * them busy for hours. Two re-tessellations of 200 000 triangles, the slow honest case, take 20 s.
   */
  materialTime_ms: 60_000,
  materialTimePerTriangle_ms: 0.3,
  /** Threads beside the main one that share it: there are not many more pieces of work. */
  crewThreads: 4,
  /** Solids held from comparing to drawing, some 100 parts of 20 000 triangles; what is more goes through files. */
  heldShapesBytes: 256 * 1024 ** 2,
  /** Mesh files of the parts that are drawn at a time: twelve times as much is in memory, or one part however large. */
  drawnAtOnceBytes: 48 * 1024 ** 2,
  /** Circles of a lineage that are named; there can be exponentially many, and a person mends them one by one. */
  lineageCircles: 100,
} as const;

import { auditRegistry, cacheFolder, openCache, repositoryPrefix } from '@kinprint/registry';
import { auditJson, auditMarkdown, auditSarif, auditText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { progressOf } from '../progress.ts';
import { registryFolder } from '../registry-folder.ts';
import { version } from '../version.ts';
import type { AuditFlags } from './audit-flags.ts';
import { namedWork, openWorks } from './audited-works.ts';

/** `kinprint audit [VARIANT[@LETTER]]`: 1 for errors, and for a use that is not allowed. */
export async function auditCommand(variant: string | undefined, flags: AuditFlags, io: Io): Promise<number> {
  const root = registryFolder(flags.registry, io.cwd);
  const cache = openCache(flags.cache ? cacheFolder() : null);
  const progress = progressOf(io, 'part');
  try {
    const opened = await openWorks(root, cache, flags, io);
    const { state, history, works, published, sources } = opened;
    try {
      const report = await auditRegistry(state, history, works, {
        published,
        sources,
        shapes: flags.shapes,
        cache,
        use: flags.use ?? null,
        ...(variant === undefined ? {} : { targets: [namedWork(works, variant)] }),
        progress: (done, total) => progress.at(done, total),
      });
      progress.end();
      switch (flags.json ? 'json' : flags.format) {
        case 'json':
          io.out(`${JSON.stringify(auditJson(report), null, 2)}\n`);
          break;
        case 'sarif':
          io.out(
            `${JSON.stringify(auditSarif(report, version, (await repositoryPrefix(root)) ?? ''), null, 2)}\n`,
          );
          break;
        case 'markdown':
          io.out(auditMarkdown(report));
          break;
        case 'text':
          io.out(`${auditText(report, { columns: io.columns, color: io.color })}\n`);
      }
      const refused = report.works.some(work => work.use?.answer === 'not-permitted');
      return report.counts.error > 0 || refused ? exit.findings : exit.fine;
    } finally {
      await opened.close();
    }
  } finally {
    cache.flush();
  }
}

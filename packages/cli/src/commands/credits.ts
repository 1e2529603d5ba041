import { credits } from '@kinprint/license';
import { cacheFolder, openCache } from '@kinprint/registry';
import { creditsHtml, creditsJson, creditsLabel, creditsMarkdown, creditsPlain } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { registryFolder } from '../registry-folder.ts';
import type { CreditsFlags } from './audit-flags.ts';
import { namedWork, openWorks } from './audited-works.ts';

/** `kinprint credits VARIANT[@LETTER]`. */
export async function creditsCommand(variant: string, flags: CreditsFlags, io: Io): Promise<number> {
  const root = registryFolder(flags.registry, io.cwd);
  const cache = openCache(cacheFolder());
  try {
    const { works, history } = await openWorks(root, cache, flags.repo, io);
    try {
      const told = credits(works, namedWork(works, variant));
      switch (flags.json ? 'json' : flags.format) {
        case 'json':
          io.out(`${JSON.stringify(creditsJson(told), null, 2)}\n`);
          break;
        case 'markdown':
          io.out(creditsMarkdown(told));
          break;
        case 'html':
          io.out(creditsHtml(told));
          break;
        case 'label':
          io.out(`${creditsLabel(told, flags.columns)}\n`);
          break;
        case 'text':
          io.out(`${creditsPlain(told)}\n`);
      }
      return exit.fine;
    } finally {
      await history.close();
    }
  } finally {
    cache.flush();
  }
}

import { deriveVariant, type DeriveRequest } from '@kinprint/registry';
import { deriveJson, deriveText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import { openWithSources } from '../open-with-sources.ts';
import { registryFolder } from '../registry-folder.ts';
import type { DeriveFlags } from './registry-flags.ts';

/** `kinprint derive VARIANT NEW`. */
export async function deriveCommand(from: string, to: string, flags: DeriveFlags, io: Io): Promise<number> {
  const registry = await openWithSources(registryFolder(flags.registry, io.cwd));
  try {
    const request: DeriveRequest = {
      from,
      to,
      others: flags.from ?? [],
      relation: flags.relation as DeriveRequest['relation'],
      ...(flags.scale === undefined ? {} : { scale: flags.scale }),
      ...(flags.title === undefined ? {} : { title: flags.title }),
    };
    const report = await deriveVariant(registry.state, request, registry.source);
    const style = { columns: io.columns, color: io.color };
    io.out(`${flags.json ? JSON.stringify(deriveJson(report), null, 2) : deriveText(report, style)}\n`);
    return exit.fine;
  } finally {
    await registry.close();
  }
}

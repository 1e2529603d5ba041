import path from 'node:path';
import { startRegistry } from '@kinprint/registry';
import { startJson, startText } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import type { StartFlags } from './registry-flags.ts';

/** `kinprint start [DIR] --name …`. */
export async function startCommand(folder: string | undefined, flags: StartFlags, io: Io): Promise<number> {
  const report = await startRegistry(path.resolve(io.cwd, folder ?? '.'), {
    name: flags.name,
    ...(flags.summary === undefined ? {} : { summary: flags.summary }),
    ...(flags.maintainer === undefined ? {} : { maintainer: flags.maintainer }),
  });
  const style = { columns: io.columns, color: io.color };
  io.out(`${flags.json ? JSON.stringify(startJson(report), null, 2) : startText(report, style)}\n`);
  return exit.fine;
}

import type { Command } from 'commander';
import type { StartFlags } from '../commands/registry-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addStart(program: Command, io: Io, settle: Settle): void {
  program
    .command('start')
    .description('make a registry: registry.yaml, schemas for editors, a git repository; overwrites nothing')
    .argument('[dir]', 'the folder; this one where left out')
    .requiredOption('--name <text>', 'what the registry is called')
    .option('--summary <text>', 'what it is for')
    .option('--maintainer <name>', 'who looks after it')
    .option('--json', 'print JSON', false)
    .addHelpText('after', '\nExample:\n  kinprint start cuffs --name "Utensil-cuff lending group"')
    .action(async (folder: string | undefined, options: StartFlags) => {
      const { startCommand } = await import('../commands/start.ts');
      settle(await startCommand(folder, options, io));
    });
}

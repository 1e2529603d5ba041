import { Option, type Command } from 'commander';
import { creditsFormats, type CreditsFlags } from '../commands/audit-flags.ts';
import type { Io } from '../io.ts';
import { positive } from './options.ts';
import type { Settle } from './settle.ts';

export function addCredits(program: Command, io: Io, settle: Settle): void {
  program
    .command('credits')
    .description('write who must be named for a variant: everybody it came from, with license and changes')
    .argument('<variant>', 'DEVICE/VARIANT, or DEVICE/VARIANT@LETTER')
    .addOption(new Option('--format <format>', 'what to print').choices([...creditsFormats]).default('text'))
    .option('--output <path>', 'write to this file; with reuse: into this new folder')
    .option('--date <yyyy-mm-dd>', "with spdx, cyclonedx: the document's date (default: the revision's)")
    .option('--columns <n>', 'with label: signs in a line', positive, 40)
    .option('--repo <url>', 'where the registry is published (default: the address of origin)')
    .option('--sources', 'fetch the registries listed as sources first (fetched ones are always read)', false)
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--json', 'the same as --format json; with reuse: what was written, as JSON', false)
    .addHelpText(
      'after',
      `
spdx: SPDX 2.3 in JSON. cyclonedx: CycloneDX 1.6 in JSON. Both list every
revision of the lineage with its files, their hashes, license and authors.
reuse: the files of the revision with a .license file beside each, and the texts
of the licenses (REUSE 3.3); exits with 1 where something is missing.

Examples:
  kinprint credits cuff/left --format label --columns 32
  kinprint credits cuff/left@B --format spdx --output left-B.spdx.json
  kinprint credits cuff/left@B --format reuse --output left-B`,
    )
    .action(async (variant: string, options: CreditsFlags) => {
      const { creditsCommand } = await import('../commands/credits.ts');
      settle(await creditsCommand(variant, options, io));
    });
}

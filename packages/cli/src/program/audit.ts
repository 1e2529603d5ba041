import { uses } from '@kinprint/license';
import { Option, type Command } from 'commander';
import type { AuditFlags } from '../commands/audit-flags.ts';
import type { Io } from '../io.ts';
import type { Settle } from './settle.ts';

export function addAudit(program: Command, io: Io, settle: Settle): void {
  program
    .command('audit')
    .description('tell whether licenses allow what was made of what, and what they ask for')
    .argument('[variant]', 'DEVICE/VARIANT, or DEVICE/VARIANT@LETTER (default: every variant)')
    .addOption(
      new Option('--use <use>', 'may it be used so? personal, clinic, sale or class').choices([...uses]),
    )
    .option('--no-shapes', 'do not look for relatives that nobody declared')
    .addOption(
      new Option('--format <format>', 'what to print')
        .choices(['text', 'markdown', 'json', 'sarif'])
        .default('text'),
    )
    .option('--sources', 'fetch the registries listed as sources first (fetched ones are always read)', false)
    .option('--registry <dir>', 'the folder that holds registry.yaml (default: found upward from here)')
    .option('--no-cache', 'read everything anew, and remember nothing')
    .option('--json', 'the same as --format json', false)
    .addHelpText(
      'after',
      `
Exits with 1 for errors, and for a use that is not allowed. It is no legal advice.

Examples:
  kinprint audit
  kinprint audit cuff/left --use clinic`,
    )
    .action(async (variant: string | undefined, options: AuditFlags) => {
      const { auditCommand } = await import('../commands/audit.ts');
      settle(await auditCommand(variant, options, io));
    });
}

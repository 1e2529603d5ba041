// Records a variant and kills itself, hard, when a point is reached; or is killed by whoever started it.
import { readRegistry, recordVariant, workingFiles } from '@kinprint/registry';

const [root = '', address = '', point = ''] = process.argv.slice(2);
process.stdout.write('ready\n');
try {
  const outcome = await recordVariant(await readRegistry(workingFiles(root)), address, {
    date: '2026-03-14',
    at: reached => {
      if (reached === point) process.kill(process.pid, 'SIGKILL');
    },
  });
  process.stdout.write(`${outcome.kind}\n`);
} catch (error) {
  process.stdout.write(`${error instanceof Error && 'code' in error ? String(error.code) : String(error)}\n`);
}

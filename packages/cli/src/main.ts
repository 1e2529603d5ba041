import { version } from './version.ts';

// The version must not wait for any module that it does not need.
const [first, ...rest] = process.argv.slice(2);
if (rest.length === 0 && (first === '--version' || first === '-V')) {
  process.stdout.write(`${version}\n`);
} else {
  const { runProcess } = await import('./process.ts');
  await runProcess(process.argv.slice(2));
}

// Shows kinprint at work on a bare clone: builds it, makes a small git history of cuff meshes, measures and compares.
import { spawnSync } from 'node:child_process';
import { root, setup } from './setup.mjs';

const repository = 'demo/cuff-meshes';
const shell = 'parts/shell-right.stl';

heading('Setting up');
setup();
step('The build', 'npm', ['run', '--silent', 'build']);
step('Making the repository', process.execPath, [
  '--conditions=source',
  '--import',
  'tsx',
  'tools/demo/make-repository.ts',
  repository,
]);
say(
  `${repository} is now a git repository with three revisions of an invented`,
  'utensil cuff: rev-A, rev-B, rev-C. It has no manifest, only meshes.',
);

heading('What is this part?');
kinprint('measure', `${repository}/${shell}`);

heading('What did the second revision change?');
kinprint('compare', '--repo', repository, 'rev-A..rev-B');

heading('The right shell came back turned and elsewhere in space. What is new in it?');
kinprint('compare', '--repo', repository, `rev-A:${shell}`, `rev-B:${shell}`);

heading('Try next');
say(
  `npx kinprint compare --repo ${repository} --tolerance 0.05 rev-B..rev-C`,
  '    the size that was grown; small parts gathered on one plate',
  `npx kinprint compare --repo ${repository} rev-A:parts/shell-right.stl \\`,
  '    rev-A:parts/shell-left.stl',
  '    left and right: mirror images, or not?',
  `npx kinprint measure --json ${repository}/parts/*.stl`,
  '    the same figures for a program',
  'npx kinprint compare --repo PATH-TO-YOUR-OWN-MESHES HEAD~1..HEAD',
  '    your own repository, read without a checkout',
);

function heading(text) {
  console.log(`\n${text}\n${'─'.repeat(Math.min(80, text.length))}`);
}

function say(...lines) {
  console.log(lines.join('\n'));
}

/** A step that must succeed; its own output says why when it does not. */
function step(name, command, args) {
  const { status, error } = spawnSync(command, args, { cwd: root, stdio: 'inherit' });
  if (status === 0) return;
  console.error(`${name} failed${error === undefined ? '' : `: ${error.message}`}. The demo stops here.`);
  process.exit(1);
}

/** Prints the command as one would type it, then runs it. Findings are no failure of the demo; faults are. */
function kinprint(...args) {
  const line = `$ npx kinprint ${args.join(' ')}`;
  console.log(`${line.length <= 80 ? line : line.replace(/ (?=\S+$)/, ' \\\n    ')}\n`);
  const { status, error } = spawnSync(process.execPath, ['node_modules/.bin/kinprint', ...args], {
    cwd: root,
    stdio: 'inherit',
  });
  if (error !== undefined) throw error;
  if (status !== 0 && status !== 1) {
    console.error(`The demo stopped: kinprint ended with ${status}.`);
    process.exit(1);
  }
}

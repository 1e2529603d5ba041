// Shows kinprint at work on a bare clone: builds it, makes a small git history of cuff meshes, measures and compares;
// then makes a registry, and shows what it knows: who made what from what, what is wrong, and what nobody declared.
import { spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import path from 'node:path';
import { root, setup } from './setup.mjs';

const repository = 'demo/cuff-meshes';
const shell = 'parts/shell-right.stl';
const registry = 'demo/cuff-registry';
const adopted = 'demo/adopted-registry';

heading('Setting up');
setup();
step('The build', 'npm', ['run', '--silent', 'build']);
make('Making the repository', 'tools/demo/make-repository.ts', repository);
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

heading('What does that look like?');
kinprint(
  'picture',
  '--repo',
  repository,
  `rev-B:${shell}`,
  '--against',
  `rev-A:${shell}`,
  '-o',
  'demo/change.png',
);

heading('A registry: manifests, letters, lineage');
make('Making the registry', 'tools/demo/registry/make-registry.ts', registry);
say(
  `${registry} is a git repository in which an invented lending group keeps`,
  'its cuffs: fifteen variants in four generations, recorded by seven people.',
);
kinprint('show', 'utensil-cuff/right-58-rib-quick', '--registry', registry);

heading('Which variants derive from which?');
kinprint('lineage', '--registry', registry);
kinprint('lineage', '--registry', registry, '--format', 'svg', '--output', 'demo/lineage.svg');

heading('Is everything in order, and in what was just sent?');
kinprint('check', '--registry', registry);
kinprint('check', '--registry', registry, '--at', 'submission', 'utensil-cuff/right-58-tray');

heading('Somebody forgot to say where a shell is from');
kinprint('kin', 'pen-cuff/right-64/shell', '--registry', registry);

heading('Two families improved the same shell: both improvements on one');
const shells = ['right-58', 'right-58-rib', 'right-58-quick-strap'].map(
  variant => `${registry}/devices/utensil-cuff/${variant}/parts/shell.stl`,
);
kinprint('combine', ...shells, '-o', 'demo/shell-both.stl');

heading('… and two that do not go together by themselves: a person chooses');
kinprint(
  'combine',
  ...['right-58@B', 'right-62', 'right-58-rib'].map(variant => `utensil-cuff/${variant}`),
  'right-62-rib',
  '--registry',
  registry,
);

say('', 'The choice is made, and the result is a part to print:', '');
kinprint(
  'combine',
  ...['right-58@B', 'right-62', 'right-58-rib'].map(variant => `utensil-cuff/${variant}`),
  'right-62-rib',
  '--take',
  'shell:1=both,leaf:1=a,summary=a',
  '--registry',
  registry,
);
kinprint('check', 'utensil-cuff/right-62-rib', '--registry', registry);

heading('Should what was sent be taken?');
kinprint(
  'review',
  'main..submission',
  '--registry',
  registry,
  '--html',
  'demo/review.html',
  '--markdown',
  'demo/review.md',
);

heading('From a plain repository of meshes to a registry');
rmSync(path.join(root, adopted), { recursive: true, force: true });
kinprint('start', adopted, '--name', 'Adopted cuffs');
kinprint('adopt', repository, '--registry', adopted, '--device', 'utensil-cuff');

heading('Try next');
say(
  `npx kinprint compare --repo ${repository} --tolerance 0.05 rev-B..rev-C`,
  '    the size that was grown; small parts gathered on one plate',
  `npx kinprint measure --json ${repository}/parts/*.stl`,
  '    the same figures for a program',
  `npx kinprint lineage utensil-cuff/left-62 --ancestors --registry ${registry}`,
  '    where one variant comes from',
  'open demo/change.png',
  '    before and after, with what was added and removed',
  'open demo/review.html',
  '    what the branch brings, to look at and decide',
  'open demo/lineage.svg',
  '    the picture of the whole family',
  'npx kinprint compare --repo PATH-TO-YOUR-OWN-MESHES HEAD~1..HEAD',
  '    your own repository, read without a checkout',
);

function heading(text) {
  console.log(`\n${text}\n${'─'.repeat(Math.min(80, text.length))}`);
}

function say(...lines) {
  console.log(lines.join('\n'));
}

/** Makes something for the demo with one of its own scripts. */
function make(name, script, target) {
  step(name, process.execPath, ['--conditions=source', '--import', 'tsx', script, target]);
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
  const words = args.map(arg => (/^[\w./@:-]+$/.test(arg) ? arg : `'${arg}'`));
  const line = `$ npx kinprint ${words.join(' ')}`;
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

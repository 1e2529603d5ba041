// Runs one piece of work in a process of its own and prints what it took as one line of JSON.
// Called as: node child.mjs ENGINE WORK FILE…   Loading the engine's modules is start-up and not counted.
const [engine, work, ...files] = process.argv.slice(2);
const { prepare, works, finish } = await import(`./tasks/${engine}.mjs`);
const ready = prepare === undefined ? undefined : await prepare(work);
const spent = process.cpuUsage();
const start = performance.now();
const answer = await works[work](files, ready);
const seconds = (performance.now() - start) / 1000;
// All threads together: compiling and collecting included. Unlike wall time it hardly depends on how busy the machine is.
const { user, system } = process.cpuUsage(spent);
// maxRSS is in KiB on every platform that Node knows.
console.log(
  JSON.stringify({
    seconds,
    cpu: (user + system) / 1e6,
    peak: process.resourceUsage().maxRSS * 1024,
    answer,
  }),
);
await finish?.();

// Prints the results of a benchmark run at 80 columns or a little more.

const heads = ['engine', 'size', 'time', 'cpu', '× floor', '× peer', 'peak', '× files', 'growth'];
const widths = [10, 6, 9, 9, 9, 8, 10, 9, 8];

/** One block per piece of work; growth is the exponent of time over file size since the next smaller size. */
export function printTable(results) {
  for (const title of new Set(results.map(r => r.title))) {
    const rows = results.filter(r => r.title === title);
    console.log(`\n${title}`);
    console.log(line(heads));
    for (const row of rows) {
      const same = rows.filter(r => r.size === row.size && r.failed === undefined);
      const floor = same.find(r => r.role === 'floor')?.seconds;
      const peers = same.filter(r => r.role === 'peer').map(r => r.seconds);
      if (row.failed !== undefined) {
        console.log(`${line([row.engine, row.size])}  ${row.failed}`);
        continue;
      }
      const smaller = rows
        .filter(r => r.engine === row.engine && r.bytes < row.bytes && r.failed === undefined)
        .at(-1);
      console.log(
        line([
          row.engine,
          row.size,
          seconds(row.seconds),
          seconds(row.cpu),
          floor === undefined ? '' : ratio(row.seconds / floor),
          peers.length === 0 || row.role !== 'ours' ? '' : ratio(row.seconds / Math.min(...peers)),
          `${Math.round(row.peak / 1e6)} MB`,
          ratio(row.peak / row.bytes),
          smaller === undefined
            ? ''
            : (Math.log(row.seconds / smaller.seconds) / Math.log(row.bytes / smaller.bytes)).toFixed(2),
        ]),
      );
    }
  }
}

export function printTargets(targets, startup) {
  if (startup !== null) {
    console.log(
      `\nstart-up: empty Node ${(startup.empty * 1000).toFixed(0)} ms, kinprint --version ${(startup.version * 1000).toFixed(0)} ms`,
    );
  }
  if (targets.length === 0) return;
  console.log('\nTargets');
  for (const { target, got, met } of targets) {
    const word = met !== null ? (met ? 'met' : 'MISSED') : got === null ? 'not told' : 'stated';
    console.log(`  ${word.padEnd(9)} ${target}${got === null ? '' : `: ${ratio(got)}`}`);
  }
}

function line(cells) {
  return cells.map((cell, k) => (k === 0 ? cell.padEnd(widths[k]) : cell.padStart(widths[k]))).join('');
}

function seconds(value) {
  return value < 1 ? `${(value * 1000).toFixed(0)} ms` : `${value.toFixed(2)} s`;
}

function ratio(value) {
  return value < 10 ? value.toFixed(2) : value.toFixed(0);
}

import path from 'node:path';
import { InputError, type Unit } from '@kinprint/mesh';
import { measureFiles } from '@kinprint/registry';
import { inputErrorText, measureJson, fileText, volumeComplaint } from '@kinprint/report';
import { exit, type Io } from '../io.ts';
import type { MeasureFlags } from '../flags.ts';
import { upDirection } from '../up.ts';
import { progressLine } from '../progress.ts';

/** `kinprint measure FILE…`. Files that cannot be read are said and passed over; the others are still measured. */
export async function measureCommand(files: readonly string[], flags: MeasureFlags, io: Io): Promise<number> {
  const progress = progressLine(io, files.length, 'file');
  const reports = await measureFiles(
    files.map(file => path.resolve(io.cwd, file)),
    { up: upDirection(flags.up), ...(flags.unit === undefined ? {} : { unit: flags.unit as Unit }) },
    done => progress.at(done),
  );
  progress.end();
  let code: number = exit.fine;
  const results: unknown[] = [];
  reports.forEach((report, k) => {
    const file = files[k] ?? '';
    if (report instanceof InputError) {
      io.err(inputErrorText(report.inFile(file)));
      code = exit.usage;
      return;
    }
    if (flags.json) results.push(measureJson(file, report));
    else
      io.out(
        `${results.length > 0 ? '\n' : ''}${fileText(file, report, { columns: io.columns, color: io.color })}\n`,
      );
    if (!flags.json) results.push(null);
    const complaint = volumeComplaint(file, report);
    if (complaint !== null) {
      io.err(complaint);
      code = exit.usage;
    }
  });
  if (flags.json && (results.length > 0 || files.length > 1)) {
    io.out(`${JSON.stringify(files.length === 1 ? results[0] : results, null, 2)}\n`);
  }
  return code;
}

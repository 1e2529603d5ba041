import { InvalidArgumentError, Option } from 'commander';

const units = ['micron', 'millimeter', 'centimeter', 'inch', 'foot', 'meter'];

export function unitOption(): Option {
  return new Option('--unit <unit>', 'unit of the numbers in the files, whatever they say').choices(units);
}

export function positive(text: string): number {
  const value = Number(text);
  if (!(value > 0) || !Number.isFinite(value)) throw new InvalidArgumentError('It must be a number above 0.');
  return value;
}

export function list(text: string): string[] {
  return text
    .split(',')
    .map(word => word.trim())
    .filter(Boolean);
}

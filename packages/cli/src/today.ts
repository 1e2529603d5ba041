/** The calendar day where the program runs, ISO 8601. */
export function today(): string {
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The latest calendar day that has begun anywhere on earth: 14 hours ahead of UTC (IANA time zone Pacific/Kiritimati). */
export function latestDay(): string {
  return new Date(Date.now() + 14 * 3_600_000).toISOString().slice(0, 10);
}

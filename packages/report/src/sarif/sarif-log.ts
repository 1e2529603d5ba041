export type SarifLevel = 'error' | 'warning' | 'note';

export interface SarifResult {
  readonly ruleId: string;
  readonly level: SarifLevel;
  readonly message: { readonly text: string };
  readonly locations: readonly object[];
  readonly properties: object;
}

export interface SarifRun {
  readonly name: string;
  readonly version: string;
  readonly results: readonly SarifResult[];
  /** The level that a rule usually has; that of its first result where left out. */
  readonly usual?: (rule: string) => SarifLevel;
  readonly properties?: object;
}

/** One run of one tool as a log of OASIS SARIF 2.1.0. Columns are counted in UTF-16 units. */
export function sarifLog({ name, version, results, usual, properties }: SarifRun): object {
  const used = [...new Set(results.map(({ ruleId }) => ruleId))].sort();
  const levelOf = (rule: string): SarifLevel =>
    usual?.(rule) ?? results.find(({ ruleId }) => ruleId === rule)?.level ?? 'warning';
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name,
            version,
            rules: used.map(id => ({ id, defaultConfiguration: { level: levelOf(id) } })),
          },
        },
        columnKind: 'utf16CodeUnits',
        results: results.map(({ ruleId, ...rest }) => ({ ruleId, ruleIndex: used.indexOf(ruleId), ...rest })),
        ...(properties === undefined ? {} : { properties }),
      },
    ],
  };
}

import type { Fix, Log, PhysicalLocation, Region } from 'sarif';
import type { Severity } from '../../rules/engine/rule.ts';
import type { LocatedFinding } from './checkReport.ts';
import type { Range } from '../../text/lineIndex.ts';

/** A rule's description, for people who read the report in another program. */
export interface RuleDescription {
  readonly code: string;
  readonly severity: Severity;
  readonly title: string;
}

const levels = { error: 'error', warning: 'warning', hint: 'note' } as const;

/**
 * Findings as a SARIF 2.1.0 log (OASIS standard): lines and columns from 1, columns in UTF-16 units.
 *
 * @param rules every rule that was checked, in a fixed order
 * @param version of the program
 */
export function sarifLog(
  placed: readonly LocatedFinding[],
  rules: readonly RuleDescription[],
  version: string,
): Log {
  const indices = new Map(rules.map(({ code }, index) => [code, index]));
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'routewright',
            version,
            rules: rules.map(({ code, severity, title }) => ({
              id: code,
              shortDescription: { text: title },
              defaultConfiguration: { level: levels[severity] },
            })),
          },
        },
        columnKind: 'utf16CodeUnits',
        results: placed.map((finding) => {
          const ruleIndex = indices.get(finding.code);
          return {
            ruleId: finding.code,
            ...(ruleIndex !== undefined && { ruleIndex }),
            level: levels[finding.severity],
            message: { text: finding.message },
            locations: [{ physicalLocation: location(finding) }],
            ...(finding.related.length > 0 && {
              relatedLocations: finding.related.map((related, id) => ({
                id,
                message: { text: related.message },
                physicalLocation: location(related),
              })),
            }),
            ...(finding.fix && { fixes: [fixOf(finding.fix)] }),
          };
        }),
      },
    ],
  };
}

function location({ uri, file, range }: { uri: string; file: string; range: Range }): PhysicalLocation {
  return { artifactLocation: { uri: artifactUri(uri, file) }, region: region(range) };
}

/** A file's address: relative where the file lies below the current folder, else its whole URI. */
function artifactUri(uri: string, file: string): string {
  return file.startsWith('../') || /^(?:\/|[A-Za-z]:)/.test(file)
    ? uri
    : file.split('/').map(encodeURIComponent).join('/');
}

function region({ start, end }: Range): Region {
  return {
    startLine: start.line + 1,
    startColumn: start.character + 1,
    endLine: end.line + 1,
    endColumn: end.character + 1,
  };
}

function fixOf(fix: NonNullable<LocatedFinding['fix']>): Fix {
  return {
    description: { text: fix.title },
    artifactChanges: [
      {
        artifactLocation: { uri: artifactUri(fix.uri, fix.file) },
        replacements: [{ deletedRegion: region(fix.range), insertedContent: { text: fix.text } }],
      },
    ],
  };
}

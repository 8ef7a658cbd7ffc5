import { commentCodes, forecastRules, rules } from './catalogue.ts';
import type { Finding } from './engine/findings.ts';
import type { Severity } from './engine/rule.ts';

/** By code: the severity that somebody set in place of the code's own. */
export type Severities = ReadonlyMap<string, Severity | 'off'>;

const severitySettings: ReadonlySet<unknown> = new Set<Severity | 'off'>(['off', 'hint', 'warning', 'error']);

/** Codes whose severity may be set. What reading reports is always an error, since part of a file is not read. */
export const adjustableCodes: ReadonlySet<string> = new Set(
  [...rules, ...forecastRules, ...commentCodes].map(({ code }) => code),
);

/** Severities from what stands in an editor's settings; what is not valid there is ignored. */
export function parseSeverities(written: unknown): Severities {
  if (typeof written !== 'object' || written === null) return new Map();
  return new Map(
    Object.entries(written).filter(
      (entry): entry is [string, Severity | 'off'] =>
        adjustableCodes.has(entry[0]) && severitySettings.has(entry[1]),
    ),
  );
}

/** Findings with the severities that were set, those of codes turned off left out. */
export function withSeverities(findings: readonly Finding[], severities: Severities): readonly Finding[] {
  if (severities.size === 0) return findings;
  return findings.flatMap((finding) => {
    const severity = severities.get(finding.code) ?? finding.severity;
    if (severity === 'off') return [];
    return [severity === finding.severity ? finding : { ...finding, severity }];
  });
}

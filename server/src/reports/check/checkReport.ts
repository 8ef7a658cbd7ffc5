import type { Finding } from '../../rules/engine/findings.ts';
import type { Severity } from '../../rules/engine/rule.ts';
import { LineIndex, type Range } from '../../text/lineIndex.ts';

/** A finding as `check --json` prints it. */
export interface ReportedFinding {
  /** Relative to the current folder, with forward slashes. */
  readonly file: string;
  /** Lines and UTF-16 characters from 0. */
  readonly range: Range;
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  /** Whether `check --fix` has an edit that repairs it. */
  readonly fixable: boolean;
}

/** A finding with everything that the text and SARIF forms of the report need. */
export interface LocatedFinding extends ReportedFinding {
  readonly uri: string;
  readonly related: readonly {
    readonly uri: string;
    readonly file: string;
    readonly range: Range;
    readonly message: string;
  }[];
  readonly fix?: {
    readonly uri: string;
    readonly file: string;
    readonly range: Range;
    readonly title: string;
    readonly text: string;
  };
}

/**
 * Adds to findings the file names and ranges that people and programs need to find the places.
 *
 * @param textOf a file's text by its URI
 * @param nameOf a file's name for people by its URI
 */
export function locateFindings(
  findings: readonly Finding[],
  textOf: (uri: string) => string | undefined,
  nameOf: (uri: string) => string,
): LocatedFinding[] {
  const indices = new Map<string, LineIndex>();
  const range = (uri: string, span: { readonly start: number; readonly end: number }): Range => {
    let index = indices.get(uri);
    if (!index) indices.set(uri, (index = new LineIndex(textOf(uri) ?? '')));
    return index.range(span);
  };
  return findings.map(({ uri, code, severity, message, related, fix, ...span }) => ({
    file: nameOf(uri),
    range: range(uri, span),
    code,
    severity,
    message,
    fixable: fix !== undefined && !fix.onRequest,
    uri,
    related: related.map((place) => ({
      uri: place.uri,
      file: nameOf(place.uri),
      range: range(place.uri, place),
      message: place.message,
    })),
    ...(fix && {
      fix: {
        uri: fix.uri,
        file: nameOf(fix.uri),
        range: range(fix.uri, fix),
        title: fix.title,
        text: fix.text,
      },
    }),
  }));
}

/** What `check --json` prints. */
export function checkReport(placed: readonly LocatedFinding[]): { findings: ReportedFinding[] } {
  return {
    findings: placed.map(({ file, range, code, severity, message, fixable }) => ({
      file,
      range,
      code,
      severity,
      message,
      fixable,
    })),
  };
}

/** How many findings of each severity. */
export function countSeverities(
  findings: readonly { readonly severity: Severity }[],
): Record<Severity, number> {
  const counts = { error: 0, warning: 0, hint: 0 };
  for (const { severity } of findings) counts[severity]++;
  return counts;
}

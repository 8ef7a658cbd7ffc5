import { locate } from '../../files/yaml/tree.ts';
import type { Problem, Span } from '../../files/yaml/problem.ts';
import type { Reading } from '../../files/reading/reading.ts';
import type { RuleReport, Severity } from './rule.ts';
import type { Fix, SourceRef } from '../lookup/sourceRef.ts';

/** A finding with its place in a file's text: what the editor underlines and `check` prints. */
export interface Finding extends Span {
  readonly uri: string;
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly related: readonly (Span & { readonly uri: string; readonly message: string })[];
  readonly fix?: Span & {
    readonly uri: string;
    readonly title: string;
    readonly text: string;
    readonly onRequest?: true;
  };
}

/** Gives a file's reading by its URI. */
export type ReadingLookup = (uri: string) => Reading | undefined;

/** The span of a place in its file: on one line, since a whole block underlined says nothing. */
export function spanOf(readings: ReadingLookup, { uri, path, part }: SourceRef): Span {
  const reading = readings(uri);
  if (!reading) return { start: 0, end: 0 };
  const place = locate(reading.tree, path);
  const span =
    part === 'key' && place.key && place.exact
      ? place.key
      : place.value.end > place.value.start
        ? place.value
        : (place.key ?? place.value);
  const newline = reading.text.indexOf('\n', span.start);
  const end = newline < 0 ? span.end : Math.min(span.end, newline);
  const trimmed = reading.text.slice(span.start, end).trimEnd().length;
  return { start: span.start, end: span.start + trimmed };
}

/** A rule's report as a finding. */
export function toFinding(
  readings: ReadingLookup,
  rule: { readonly code: string; readonly severity: Severity },
  found: RuleReport,
): Finding {
  const { fix } = found;
  return {
    uri: found.uri,
    code: rule.code,
    severity: rule.severity,
    message: found.message,
    ...spanOf(readings, found),
    related: (found.related ?? []).map((related) => ({
      uri: related.uri,
      message: related.message,
      ...spanOf(readings, related),
    })),
    ...(fix && { fix: toFindingFix(readings, fix) }),
  };
}

function toFindingFix(readings: ReadingLookup, fix: Fix): NonNullable<Finding['fix']> {
  const { uri, title, text, edit, onRequest } = fix;
  const where = edit ?? { text, ...spanOf(readings, fix) };
  return { uri, title, ...where, ...(onRequest && { onRequest }) };
}

/** A problem of the text itself as a finding: always an error, since part of the file is not read. */
export function findingFromProblem(uri: string, problem: Problem): Finding {
  const { start, end, code, message, related, replacement } = problem;
  return {
    uri,
    start,
    end,
    code,
    message,
    severity: 'error',
    related: related ? [{ uri, ...related }] : [],
    ...(replacement && { fix: { uri, start, end, title: replacement.title, text: replacement.text } }),
  };
}

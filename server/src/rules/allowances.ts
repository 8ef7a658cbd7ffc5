import { closestWord } from '../text/closestWord.ts';
import type { Span } from '../files/yaml/problem.ts';
import type { Reading } from '../files/reading/reading.ts';
import { spotAt } from '../files/yaml/tree.ts';
import type { Finding, ReadingLookup } from './engine/findings.ts';
import type { Severity } from './engine/rule.ts';

/** A comment by which a person allows a finding: `# allow slow-cycle: the lift takes 40 s`. */
export interface Allowance extends Span {
  readonly code: string;
  /** For the whole file, or for the line that it stands on or above. */
  readonly wholeFile: boolean;
  readonly reason: string;
  /** Offsets of the lines that it applies to. */
  readonly from: number;
  readonly to: number;
}

/**
 * What is found about such comments themselves. It looks at findings and not at a project, so that it is not a `Rule`.
 */
export const needlessAllowance: {
  readonly code: string;
  readonly severity: Severity;
  readonly title: string;
} = {
  code: 'needless-allowance',
  severity: 'hint',
  title: 'A comment that allows what is not found, or gives no reason.',
};

const allowancePattern =
  /#[ \t]*allow[ \t]+([a-z]+(?:-[a-z]+)+)([ \t]+in this file)?(?:[ \t]*:[ \t]*(.*?))?[ \t]*(?=\r?$)/gm;

/** The allowances in a file's comments, in their order. */
export function allowancesIn({ text, tree }: Reading): Allowance[] {
  return [...text.matchAll(allowancePattern)].flatMap((match) => {
    const [written, code = '', wholeFile, reason = ''] = match;
    const start = match.index;
    const lineStart = text.lastIndexOf('\n', start - 1) + 1;
    const before = text.slice(lineStart, start);
    // A comment stands at the beginning of a line or behind a space, and never inside a text.
    if (before !== '' && !/[ \t]$/.test(before)) return [];
    const spot = spotAt(tree, start);
    if (spot?.tree?.type === 'scalar' && spot.part === 'value' && start < spot.span.end) return [];
    const from = before.trim() === '' ? nextContentLine(text, start) : lineStart;
    const newline = text.indexOf('\n', from);
    return [
      {
        start,
        end: start + written.length,
        code,
        wholeFile: wholeFile !== undefined,
        reason,
        from,
        to: newline < 0 ? text.length : newline,
      },
    ];
  });
}

/** The next line that is neither blank nor a comment. */
function nextContentLine(text: string, from: number): number {
  for (let at = text.indexOf('\n', from) + 1; at > 0; at = text.indexOf('\n', at) + 1) {
    const newline = text.indexOf('\n', at);
    if (!/^\s*(?:#|$)/.test(text.slice(at, newline < 0 ? text.length : newline))) return at;
  }
  return text.length;
}

export interface AllowanceContext {
  readonly readings: ReadingLookup;
  /** Every code that a finding can have. */
  readonly codes: ReadonlySet<string>;
  /** Whether the rule of this code has checked a file: before that it is not known whether an allowance is needed. */
  readonly decided: (uri: string, code: string) => boolean;
}

/**
 * Leaves out the findings that a comment of their file allows with a reason, and finds the comments that allow nothing.
 * Errors cannot be allowed: the text that they are about is not counted.
 *
 * @param uris the files whose comments count
 */
export function applyAllowances(
  uris: Iterable<string>,
  findings: readonly Finding[],
  { readings, codes, decided }: AllowanceContext,
): Finding[] {
  const used = new Set<Allowance>();
  const byUri = new Map<string, Allowance[]>();
  for (const uri of uris) {
    const reading = readings(uri);
    const found = reading?.text.includes('allow') ? allowancesIn(reading) : [];
    if (found.length > 0) byUri.set(uri, found);
  }
  if (byUri.size === 0) return [...findings];
  const kept = findings.filter((finding) => {
    const fitting = byUri.get(finding.uri)?.filter((allowance) => allows(allowance, finding)) ?? [];
    for (const allowance of fitting) used.add(allowance);
    return finding.severity === 'error' || fitting.every(({ reason }) => reason === '');
  });
  for (const [uri, allowances] of byUri) {
    for (const allowance of allowances) {
      const { code } = allowance;
      const error = findings.some(
        (finding) => finding.uri === uri && finding.severity === 'error' && allows(allowance, finding),
      );
      const message = allowanceProblem(allowance, {
        known: codes.has(code),
        meant: codes.has(code) ? undefined : closestWord(code, codes),
        error,
        needed: used.has(allowance) || !decided(uri, code),
      });
      if (message === undefined) continue;
      const { severity } = needlessAllowance;
      const { start, end } = allowance;
      kept.push({ uri, start, end, code: needlessAllowance.code, severity, message, related: [] });
    }
  }
  return kept;
}

function allows({ code, wholeFile, from, to }: Allowance, finding: Finding): boolean {
  return code === finding.code && (wholeFile || (from <= finding.start && finding.start <= to));
}

/** What is wrong with an allowance, and what to do about it. */
function allowanceProblem(
  { code, reason, wholeFile }: Allowance,
  is: { known: boolean; meant: string | undefined; error: boolean; needed: boolean },
): string | undefined {
  if (!is.known) {
    const hint =
      is.meant === undefined ? 'Correct it or delete the comment.' : `Did you mean \`${is.meant}\`?`;
    return `No finding has the code \`${code}\`. ${hint}`;
  }
  if (is.error)
    return `\`${code}\` is an error here, and errors cannot be allowed. Correct what it points at.`;
  if (!is.needed) {
    const where = wholeFile ? 'in this file' : 'on this line';
    return `No \`${code}\` is found ${where}, so that this comment allows nothing. Delete it.`;
  }
  if (reason === '')
    return `This allows \`${code}\` without saying why, and so has no effect. Write the reason behind a colon.`;
  return undefined;
}

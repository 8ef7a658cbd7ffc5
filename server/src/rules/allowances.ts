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
  /#[ \t]*allow[ \t]+([a-z]+(?:-[a-z]+)+)([ \t]+in this file)?[ \t]*(?::(.*))?(?=\r?$)/gm;

/** The allowances in a file's comments, in their order. */
export function allowancesIn({ text, tree }: Reading): Allowance[] {
  const contentLines = new ContentLines(text);
  // From the last to the first, so that the lines below a comment are looked through once.
  const matches = [...text.matchAll(allowancePattern)].reverse();
  const found = matches.flatMap((match): Allowance[] => {
    const [line, code = '', wholeFile, reason = ''] = match;
    const written = line.trimEnd();
    const start = match.index;
    const lineStart = text.lastIndexOf('\n', start - 1) + 1;
    const before = text.slice(lineStart, start);
    // A comment stands at the beginning of a line or behind a space, and never inside a text.
    if (before !== '' && !/[ \t]$/.test(before)) return [];
    const spot = spotAt(tree, start);
    if (spot?.tree?.type === 'scalar' && spot.part === 'value' && start < spot.span.end) return [];
    const from = before.trim() === '' ? contentLines.after(lineStart) : lineStart;
    const newline = text.indexOf('\n', from);
    return [
      {
        start,
        end: start + written.length,
        code,
        wholeFile: wholeFile !== undefined,
        reason: reason.trim(),
        from,
        to: newline < 0 ? text.length : newline,
      },
    ];
  });
  return found.reverse();
}

/** Finds the lines that are neither blank nor a comment. */
class ContentLines {
  private readonly text: string;
  /** By the beginning of a line that was asked for: what was found. */
  private readonly known = new Map<number, number>();

  constructor(text: string) {
    this.text = text;
  }

  /** The first such line behind the line that begins here; the end of the text where there is none. */
  after(lineStart: number): number {
    const found = this.search(lineStart);
    this.known.set(lineStart, found);
    return found;
  }

  private search(lineStart: number): number {
    const { text } = this;
    for (let at = text.indexOf('\n', lineStart) + 1; at > 0; at = text.indexOf('\n', at) + 1) {
      const known = this.known.get(at);
      if (known !== undefined) return known;
      const newline = text.indexOf('\n', at);
      if (!/^\s*(?:#|$)/.test(text.slice(at, newline < 0 ? text.length : newline))) return at;
    }
    return text.length;
  }
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
  const byUri = new Map<string, AllowanceGroups>();
  for (const uri of uris) {
    const reading = readings(uri);
    const found = reading?.text.includes('allow') ? allowancesIn(reading) : [];
    if (found.length > 0) byUri.set(uri, new AllowanceGroups(found));
  }
  if (byUri.size === 0) return [...findings];
  const kept = findings.filter((finding) => {
    const groups = byUri.get(finding.uri)?.fitting(finding) ?? [];
    for (const group of groups) {
      group.used = true;
      if (finding.severity === 'error') group.error = true;
    }
    return finding.severity === 'error' || groups.every(({ explained }) => !explained);
  });
  for (const [uri, groups] of byUri) {
    for (const allowance of groups.all) {
      const { code } = allowance;
      const { used, error } = groups.groupOf(allowance);
      const message = allowanceProblem(allowance, {
        known: codes.has(code),
        meant: codes.has(code) ? undefined : closestWord(code, codes),
        error,
        needed: used || !decided(uri, code),
      });
      if (message === undefined) continue;
      const { severity } = needlessAllowance;
      const { start, end } = allowance;
      kept.push({ uri, start, end, code: needlessAllowance.code, severity, message, related: [] });
    }
  }
  return kept;
}

/** The allowances of one code for the same line, or for the whole file. */
interface AllowanceGroup {
  readonly from: number;
  readonly to: number;
  /** Whether one of them says why. */
  explained: boolean;
  /** Whether they allow a finding, and whether one that is an error. */
  used: boolean;
  error: boolean;
}

/** A file's allowances, put together by what they allow. */
class AllowanceGroups {
  readonly all: readonly Allowance[];
  /** By code: one group for the whole file, and those of lines in the order of the text. */
  private readonly byCode = new Map<string, { file?: AllowanceGroup; readonly lines: AllowanceGroup[] }>();
  private readonly groups = new Map<Allowance, AllowanceGroup>();

  constructor(all: readonly Allowance[]) {
    this.all = all;
    for (const allowance of all) this.add(allowance);
  }

  groupOf(allowance: Allowance): AllowanceGroup {
    return this.groups.get(allowance)!;
  }

  /** The groups that allow a finding. */
  fitting({ code, start }: Finding): AllowanceGroup[] {
    const { file, lines = [] } = this.byCode.get(code) ?? {};
    let low = 0;
    let high = lines.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (lines[middle]!.from <= start) low = middle + 1;
      else high = middle;
    }
    const line = lines[low - 1];
    return [...(file ? [file] : []), ...(line && start <= line.to ? [line] : [])];
  }

  private add(allowance: Allowance): void {
    const { code, from, to, wholeFile, reason } = allowance;
    let ofCode = this.byCode.get(code);
    if (!ofCode) this.byCode.set(code, (ofCode = { lines: [] }));
    const last = wholeFile ? ofCode.file : ofCode.lines.at(-1);
    const same = last && (wholeFile || last.from === from);
    const group = same ? last : { from, to, explained: false, used: false, error: false };
    if (reason !== '') group.explained = true;
    if (wholeFile) ofCode.file = group;
    else if (!same) ofCode.lines.push(group);
    this.groups.set(allowance, group);
  }
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

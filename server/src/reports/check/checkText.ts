import { countSeverities, type LocatedFinding } from './checkReport.ts';
import { formatCount, formatList } from '../../text/format.ts';
import type { Position } from '../../text/lineIndex.ts';
import { type TextStyle } from '../../text/terminalText.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';

export interface CheckSummary {
  /** Number of files checked. */
  readonly files: number;
  /** Dates for which forecasts were made, each once. */
  readonly asOf: readonly string[];
}

/**
 * Findings for people, grouped by file. Each line begins with a place that a terminal makes clickable; the last line
 * sums up.
 */
export function checkText(placed: readonly LocatedFinding[], what: CheckSummary, style: TextStyle): string {
  const lines: string[] = [];
  let file: string | undefined;
  for (const finding of placed) {
    if (file !== undefined && file !== finding.file) lines.push('');
    file = finding.file;
    const place = style.bold(`${sanitizeForTerminal(finding.file)}:${formatPosition(finding.range.start)}`);
    lines.push(
      `${place}  ${finding.severity}  ${sanitizeForTerminal(finding.message)}  ${style.dim(`[${finding.code}]`)}`,
    );
    for (const { file: other, range, message } of finding.related)
      lines.push(
        `    ${style.dim(`${sanitizeForTerminal(other)}:${formatPosition(range.start)}  ${sanitizeForTerminal(message)}`)}`,
      );
  }
  if (lines.length > 0) lines.push('');
  lines.push(summary(placed, what));
  const fixable = placed.filter((finding) => finding.fixable).length;
  if (fixable > 0) lines.push(`${formatCount(fixable, 'finding')} can be mended with --fix.`);
  return `${lines.join('\n')}\n`;
}

/** Line and column from 1, as editors show them. */
export function formatPosition({ line, character }: Position): string {
  return `${line + 1}:${character + 1}`;
}

function summary(placed: readonly LocatedFinding[], { files, asOf }: CheckSummary): string {
  const counts = countSeverities(placed);
  const found =
    placed.length === 0
      ? 'nothing found'
      : formatList(
          [
            counts.error > 0 && formatCount(counts.error, 'error'),
            counts.warning > 0 && formatCount(counts.warning, 'warning'),
            counts.hint > 0 && formatCount(counts.hint, 'hint'),
          ].filter((part) => part !== false),
        );
  const date = asOf.length > 0 ? `, as of ${formatList(asOf)}` : '';
  return `${formatCount(files, 'file')} checked${date}: ${found}.`;
}

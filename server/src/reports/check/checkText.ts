import { countSeverities, type PlacedFinding } from './checkReport.ts';
import { counted, listed } from '../../text/format.ts';
import type { Position } from '../../text/lineIndex.ts';
import { plainText, type Style } from '../../text/terminalText.ts';

export interface CheckedWhat {
  /** Number of files looked at. */
  readonly files: number;
  /** Dates for which forecasts were made, one for each route that differs. */
  readonly asOf: readonly string[];
}

/** Findings for people: grouped by file, a place to click on first, and a line that sums them up. */
export function checkText(placed: readonly PlacedFinding[], what: CheckedWhat, style: Style): string {
  const lines: string[] = [];
  let file: string | undefined;
  for (const finding of placed) {
    if (file !== undefined && file !== finding.file) lines.push('');
    file = finding.file;
    const place = style.bold(`${plainText(finding.file)}:${spoken(finding.range.start)}`);
    lines.push(
      `${place}  ${finding.severity}  ${plainText(finding.message)}  ${style.dim(`[${finding.code}]`)}`,
    );
    for (const { file: other, range, message } of finding.related)
      lines.push(`    ${style.dim(`${plainText(other)}:${spoken(range.start)}  ${plainText(message)}`)}`);
  }
  if (lines.length > 0) lines.push('');
  lines.push(summary(placed, what));
  const fixable = placed.filter((finding) => finding.fixable).length;
  if (fixable > 0) lines.push(`${counted(fixable, 'finding')} can be mended with --fix.`);
  return `${lines.join('\n')}\n`;
}

/** Line and column from 1, as editors show them. */
export function spoken({ line, character }: Position): string {
  return `${line + 1}:${character + 1}`;
}

function summary(placed: readonly PlacedFinding[], { files, asOf }: CheckedWhat): string {
  const counts = countSeverities(placed);
  const found =
    placed.length === 0
      ? 'nothing found'
      : listed(
          [
            counts.error > 0 && counted(counts.error, 'error'),
            counts.warning > 0 && counted(counts.warning, 'warning'),
            counts.hint > 0 && counted(counts.hint, 'hint'),
          ].filter((part) => part !== false),
        );
  const date = asOf.length > 0 ? `, as of ${listed(asOf)}` : '';
  return `${counted(files, 'file')} checked${date}: ${found}.`;
}

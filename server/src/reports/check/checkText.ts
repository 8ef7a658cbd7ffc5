import { countSeverities, type LocatedFinding } from './checkReport.ts';
import { formatCount, formatList } from '../../text/format.ts';
import type { Position } from '../../text/lineIndex.ts';
import { type Page, type PlacesPart, prose } from '../page.ts';

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
export function checkPage(placed: readonly LocatedFinding[], what: CheckSummary): Page {
  const fixable = placed.filter((finding) => finding.fixable).length;
  const sums = [
    summary(placed, what),
    ...(fixable > 0 ? [`${formatCount(fixable, 'finding')} can be mended with --fix.`] : []),
  ];
  return { parts: [...placesByFile(placed), prose(sums.join(' '))] };
}

/** Neighbours of one file together. */
function placesByFile(placed: readonly LocatedFinding[]): PlacesPart[] {
  const parts: { readonly file: string; readonly places: PlacesPart['places'][number][] }[] = [];
  for (const { file, range, severity, message, code, related } of placed) {
    if (parts.at(-1)?.file !== file) parts.push({ file, places: [] });
    parts.at(-1)!.places.push(
      { place: `${file}:${formatPosition(range.start)}`, text: `${severity}  ${message}`, code },
      ...related.map((other) => ({
        place: `${other.file}:${formatPosition(other.range.start)}`,
        text: other.message,
        below: true,
      })),
    );
  }
  return parts.map(({ places }) => ({ kind: 'places', places }));
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

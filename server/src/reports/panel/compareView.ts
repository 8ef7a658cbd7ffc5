import type { CompareView } from '../../protocol/panel/compareView.ts';
import type { PanelPart } from '../../protocol/panel/pageParts.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { CompareReport } from '../compare/compareReport.ts';
import { compareRest, type CompareWords } from '../compare/compareText.ts';
import { differencesView, differenceText, type DifferenceWords, type TimePair } from './differences.ts';
import { panelParts } from './panelParts.ts';

const words: DifferenceWords = {
  caption: 'Expected time of B against A, by segment',
  titles: { first: 'A', second: 'B' },
  sides: { less: 'B is faster', more: 'B is slower' },
  shorter: 'faster in B',
  longer: 'slower in B',
  same: 'the same',
  onlyFirst: 'only in A',
  onlySecond: 'only in B',
};

/** Two routes as the panel shows them: their expected times by segment, and what else differs. */
export function compareView(report: CompareReport, options: CompareWords): CompareView {
  const { finalTime, segments } = report;
  const pairs = segments.map(({ id, a, b }): TimePair => ({
    id,
    name: options.segments.get(id) ?? id,
    first: a,
    second: b,
    isTotal: false,
  }));
  const total: TimePair = {
    id: '',
    name: 'The whole run',
    first: finalTime.a,
    second: finalTime.b,
    isTotal: true,
  };
  return {
    a: sanitizeForTerminal(report.a),
    b: sanitizeForTerminal(report.b),
    summary: summaryText(finalTime.delta),
    differences: differencesView([...pairs, total], words),
    parts: panelParts(compareRest(report, options)).map(withNamedColumn),
  };
}

function summaryText(delta: number | null): string {
  if (delta === null) return 'Along one of the two routes, no run is expected to reach the end.';
  const whole = { shorter: 'less than along A', longer: 'more than along A', same: 'the same along both' };
  const text = differenceText(delta, whole);
  return text === whole.same
    ? 'A finished run is expected to take the same time along both.'
    : `A finished run along B is expected to take ${text}.`;
}

/** Screen readers read the heading of a column with each of its cells, so that none is empty. */
function withNamedColumn(part: PanelPart): PanelPart {
  if (part.kind !== 'table') return part;
  const columns = part.columns.map((one) => (one.title === '' ? { ...one, title: 'Of a run' } : one));
  return { ...part, columns };
}

import type { AfterView } from '../../../server/src/protocol/panel/afterView.ts';
import type { ViewActions } from '../actions.ts';
import { ensureChild, labelledSelect, setProse, type HtmlSelection } from '../dom.ts';
import { renderParts } from '../parts.ts';
import { showDifferences } from './differences.ts';

/** One logged run: its times against the usual, and what it changed. */
export function showAfter(place: HtmlSelection, after: AfterView, actions: ViewActions): void {
  labelledSelect(place, 'run', 'Run', after.runs, ({ run, label }) => ({ value: run, text: label }), {
    value: after.run,
    act: (run) => actions.look({ view: 'after', technique: null, run }),
  });
  setProse(ensureChild(place, 'p', 'summary'), after.summary);
  showDifferences(place, 'against-usual', after.summary, after.differences, actions);
  renderParts(place, 'after-parts', after.parts);
}

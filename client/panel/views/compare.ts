import type { CompareView } from '../../../server/src/protocol/panel/compareView.ts';
import type { RemedyOffer } from '../../../server/src/protocol/panel/remedies.ts';
import type { ViewActions } from '../actions.ts';
import { ensureChild, renderFacts, setProse, type HtmlSelection } from '../dom.ts';
import { renderParts } from '../parts.ts';
import { renderRemedies } from '../remedies.ts';
import { showDifferences } from './differences.ts';

/** Two routes: their expected times by segment, and what else differs. */
export function showCompare(
  place: HtmlSelection,
  { a, b, summary, differences, parts }: CompareView,
  remedies: readonly RemedyOffer[],
  actions: ViewActions,
): void {
  renderFacts(place, 'sides', [
    { label: 'A', text: a },
    { label: 'B', text: b },
  ]);
  setProse(ensureChild(place, 'p', 'summary'), summary);
  renderRemedies(place, remedies, actions);
  showDifferences(place, 'two-routes', summary, differences, actions);
  renderParts(place, 'compare-parts', parts);
}

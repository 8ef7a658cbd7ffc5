import type { RemedyOffer } from '../../server/src/protocol/panel/remedies.ts';
import type { ViewActions } from './actions.ts';
import { ensureButton, ensureChild, renderList, type HtmlSelection } from './dom.ts';

/** The buttons that end what is missing; nothing where nothing is. */
export function renderRemedies(
  place: HtmlSelection,
  offers: readonly RemedyOffer[],
  actions: Pick<ViewActions, 'send'>,
): void {
  const group = ensureChild(place, 'div', 'remedies').classed('absent', offers.length === 0);
  renderList(
    group,
    'div',
    'remedy',
    offers,
    ({ remedy }) => remedy,
    (item, { remedy, text }) => {
      ensureButton(item, 'end-lack', text, () => actions.send({ type: 'remedy', remedy }));
    },
  );
}

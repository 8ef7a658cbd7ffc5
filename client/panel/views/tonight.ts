import type { TonightView } from '../../../server/src/protocol/panel/tonightView.ts';
import type { ViewActions } from '../actions.ts';
import {
  ensureButton,
  ensureChild,
  renderFacts,
  renderList,
  setProse,
  setText,
  type HtmlSelection,
} from '../dom.ts';

/** Tonight: the blocks of today in their order, and the lines that a runner reads before beginning. */
export function showTonight(place: HtmlSelection, tonight: TonightView, actions: ViewActions): void {
  const { title, summary, steps, lines, swaps } = tonight;
  const section = ensureChild(place, 'section', 'tonight').attr('aria-labelledby', 'tonight-title');
  setText(ensureChild(section, 'h2', 'tonight-title').attr('id', 'tonight-title'), title);
  setText(
    ensureChild(section, 'p', 'tonight-summary').classed('absent', steps.length > 0),
    steps.length > 0 ? '' : summary,
  );
  renderList(
    ensureChild(section, 'ol', 'steps').classed('absent', steps.length === 0),
    'li',
    'step',
    steps,
    (_, index) => String(index),
    (item, { technique, name, text }) => {
      ensureButton(
        item,
        'step-name',
        name,
        () => actions.send({ type: 'open', technique }),
        `Open in route: ${name}`,
      );
      setProse(ensureChild(item, 'span', 'step-text'), text);
      ensureButton(
        item,
        'start',
        'Start',
        () => actions.send({ type: 'practise', technique }),
        `Start a block of ${name}`,
      );
    },
  );
  renderFacts(section, 'tonight-lines', lines);
  renderList(
    ensureChild(section, 'ul', 'swaps')
      .classed('absent', swaps.length === 0)
      .attr('aria-label', 'Swaps to think about'),
    'li',
    'swap',
    swaps,
    ({ technique, instead }) => `${technique} ${instead}`,
    (item, { technique, instead, title: swap, text }) => {
      setText(ensureChild(item, 'span', 'swap-text'), text);
      ensureButton(item, 'make-swap', swap, () => actions.send({ type: 'swap', technique, instead }));
    },
  );
}

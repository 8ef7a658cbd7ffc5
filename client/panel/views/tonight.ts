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
  setProse(
    ensureChild(section, 'p', 'tonight-summary').classed('absent', steps.length > 0),
    steps.length > 0 ? '' : summary,
  );
  const list = ensureChild(section, 'ol', 'steps');
  // A technique may be practised twice in one evening.
  const rows = actions.rows.of(list, steps, ({ technique }, index) => {
    const earlier = steps.slice(0, index).filter((step) => step.technique === technique).length;
    return `${technique} ${earlier}`;
  });
  renderList(
    list.classed('absent', rows.length === 0),
    'li',
    'step',
    rows,
    ({ key }) => key,
    (item, { item: { technique, name, text }, gone }) => {
      item.classed('gone', gone);
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
  const shown = new Set(steps.map(({ technique }) => technique));
  showSwaps(
    section,
    'tonight-swaps',
    swaps.filter(({ technique }) => shown.has(technique)),
    actions,
  );
}

/**
 * Swaps to think about, each with its button: below tonight's list those of a technique in it, the others below the
 * practice set.
 */
export function showSwaps(
  place: HtmlSelection,
  name: string,
  swaps: TonightView['swaps'],
  actions: ViewActions,
): void {
  const offers = ensureChild(place, 'ul', name)
    .classed('swaps', true)
    .attr('aria-label', 'Swaps to think about');
  const offered = actions.rows.of(offers, swaps, ({ technique, instead }) => `${technique} ${instead}`);
  renderList(
    offers.classed('absent', offered.length === 0),
    'li',
    'swap',
    offered,
    ({ key }) => key,
    (item, { item: { technique, instead, title: swap, text }, gone }) => {
      setProse(ensureChild(item.classed('gone', gone), 'span', 'swap-text'), text);
      // A swap that was made, or is no longer on offer, cannot be made again.
      const make = (): void => actions.send({ type: 'swap', technique, instead });
      ensureButton(item, 'make-swap', swap, gone ? () => undefined : make).attr(
        'aria-disabled',
        gone ? 'true' : null,
      );
    },
  );
}

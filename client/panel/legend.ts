import {
  ensureChild,
  ensureSvgChild,
  renderList,
  setText,
  type HtmlSelection,
  type SvgSelection,
} from './dom.ts';

/** Width and height in pixels of a mark in a legend. */
export const swatchSize = { width: 22, height: 12 };

export interface LegendEntry {
  readonly kind: string;
  readonly text: string;
}

/**
 * Explains the marks of a chart.
 *
 * @param draw draws the mark of a kind
 */
export function renderLegend<E extends LegendEntry>(
  place: HtmlSelection,
  entries: readonly E[],
  draw: (swatch: SvgSelection, kind: E['kind']) => void,
): void {
  renderList(
    ensureChild(place, 'ul', 'key'),
    'li',
    'entry',
    entries,
    ({ kind }) => kind,
    (item, { kind, text }) => {
      const swatch = ensureSvgChild(item, 'svg', 'swatch')
        .attr('aria-hidden', 'true')
        .attr('width', swatchSize.width)
        .attr('height', swatchSize.height);
      draw(swatch, kind);
      setText(ensureChild(item, 'span', 'means'), text);
    },
  );
}

/** A line across a mark of a legend. */
export function swatchLine(swatch: SvgSelection, name: string): void {
  ensureSvgChild(swatch, 'line', name)
    .attr('x1', 0)
    .attr('x2', swatchSize.width)
    .attr('y1', swatchSize.height / 2)
    .attr('y2', swatchSize.height / 2);
}

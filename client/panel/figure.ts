import { ensureChild, ensureSvgChild, setText, type HtmlSelection, type SvgSelection } from './dom.ts';
import { ensureButton } from './dom.ts';
import type { ViewActions } from './actions.ts';

/** Style properties of a drawing that are written into the saved file. */
const exportedStyles = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-opacity',
  'stroke-dasharray',
  'stroke-linejoin',
  'opacity',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
  'dominant-baseline',
];

/** The data that each drawing shows, as JSON. */
const drawn = new WeakMap<Element, string>();

/**
 * A chart with its caption, a description for people who cannot see it, and a button to save it.
 *
 * @param data what the drawing shows; it is drawn again only where this has changed
 * @param draw fills the drawing for a width in pixels and returns its height
 */
export function renderFigure(
  parent: HtmlSelection,
  name: string,
  caption: string,
  summary: string,
  data: unknown,
  actions: ViewActions,
  draw: (drawing: SvgSelection, width: number) => number,
): HtmlSelection {
  const place = ensureChild(parent, 'figure', name);
  const head = ensureChild(place, 'figcaption', 'figcaption');
  setText(ensureChild(head, 'span', 'caption'), caption);
  const drawing = ensureSvgChild(place, 'svg', 'chart')
    .attr('role', 'img')
    .attr('aria-label', `${caption}. ${summary}`);
  const width = chartWidth(actions);
  const node = drawing.node();
  const key = JSON.stringify([width, data]);
  if (node && drawn.get(node) !== key) {
    drawn.set(node, key);
    const height = draw(drawing, width);
    drawing.attr('width', width).attr('height', height).attr('viewBox', `0 0 ${width} ${height}`);
  }
  ensureButton(
    head,
    'save',
    'Save SVG',
    () => {
      if (node instanceof SVGElement) actions.send({ type: 'save', name, drawing: drawingToSvg(node) });
    },
    `Save SVG: ${caption}`,
  );
  return place;
}

/** The width of a chart in pixels. */
export function chartWidth({ width }: ViewActions): number {
  return Math.max(200, width);
}

/** A drawing as the text of an SVG file, with the current theme's colours and fonts. */
export function drawingToSvg(drawing: SVGElement): string {
  const copy = drawing.cloneNode(true) as SVGElement;
  const from = [drawing, ...drawing.querySelectorAll('*')];
  const to = [copy, ...copy.querySelectorAll('*')];
  from.forEach((element, index) => {
    const target = to[index];
    if (!target) return;
    const look = getComputedStyle(element);
    target.removeAttribute('class');
    for (const name of exportedStyles) {
      const value = look.getPropertyValue(name);
      if (value !== '') target.setAttribute(name, value);
    }
  });
  const ground = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
  ground.setAttribute('width', '100%');
  ground.setAttribute('height', '100%');
  ground.setAttribute('fill', getComputedStyle(document.body).backgroundColor);
  copy.prepend(ground);
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  return new XMLSerializer().serializeToString(copy);
}

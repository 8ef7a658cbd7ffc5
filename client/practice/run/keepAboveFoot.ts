/** Pixels between a field and the foot: room for the outline of the focus. */
const gap = 8;

/**
 * Keeps the field that has the focus above the foot, which stays in sight and covers what is behind it. Its height
 * depends on its sentences and on the width, so that it is measured.
 */
export function keepAboveFoot(form: HTMLElement, foot: HTMLElement): void {
  const keep = (): void => {
    const covers = getComputedStyle(foot).position === 'sticky';
    document.documentElement.style.scrollPaddingBottom = `${covers ? foot.offsetHeight + gap : gap}px`;
    const field = document.activeElement;
    if (field instanceof HTMLElement && form.contains(field) && !foot.contains(field))
      field.scrollIntoView({ block: 'nearest' });
  };
  new ResizeObserver(keep).observe(foot);
  window.addEventListener('resize', keep);
  form.addEventListener('focusin', keep);
}

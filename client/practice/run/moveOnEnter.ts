/**
 * Makes Enter lead from field to field, as in a table; with Control or Command it saves. In a field for a time the
 * arrows up and down do the same as in a column of a table.
 */
export function moveOnEnter(form: HTMLElement, save: () => void): void {
  form.addEventListener('keydown', (event) => {
    const { target, key, ctrlKey, metaKey, altKey, shiftKey } = event;
    if (!(target instanceof HTMLInputElement) || altKey) return;
    if (key === 'Enter') {
      event.preventDefault();
      if (ctrlKey || metaKey) save();
      else moveFrom(form, target, shiftKey ? -1 : 1, 'input, button');
      return;
    }
    const step = key === 'ArrowDown' ? 1 : key === 'ArrowUp' ? -1 : 0;
    if (step === 0 || ctrlKey || metaKey || shiftKey || !target.classList.contains('time')) return;
    event.preventDefault();
    moveFrom(form, target, step, 'input.time');
  });
}

function moveFrom(form: HTMLElement, from: HTMLElement, step: 1 | -1, what: string): void {
  const fields = [...form.querySelectorAll<HTMLInputElement | HTMLButtonElement>(what)].filter(
    (one) => !one.disabled && one.checkVisibility(),
  );
  const next = fields[fields.findIndex((one) => one === from) + step];
  next?.focus();
  if (next instanceof HTMLInputElement && next.classList.contains('time')) next.select();
}

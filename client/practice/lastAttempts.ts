import type { LoggedAttempt } from '../../server/src/protocol/practice/blockView.ts';
import { elementById, setText } from './elements.ts';

/** The signs differ in shape, so that no colour has to be told apart. */
const [landedSign, missedSign] = ['✓', '✗'];
/** How many of the last attempts are shown where there is room for them, and how many a screen reader reads. */
const maxShown = 60;
const maxRead = 10;

/** Shows how the last attempts went, in one line, the newest at its end; what does not fit is left out at its start. */
export function drawLastAttempts(attempts: readonly LoggedAttempt[]): void {
  const line = elementById('tape');
  line.classList.toggle('quiet', attempts.length === 0);
  line.setAttribute('aria-label', lastAttemptsInWords(attempts));
  if (attempts.length === 0) {
    setText('tape', 'none yet');
    return;
  }
  const signs = attempts.slice(-maxShown).map(({ landed }) => (landed ? landedSign : missedSign));
  const show = (count: number): void =>
    setText('tape', `${count < attempts.length ? '…' : ''}${signs.slice(-count).join('')}`);
  let count = signs.length;
  show(count);
  // The two signs may come from fonts of different widths, so that only the browser knows how many fit.
  while (count > 1 && line.scrollWidth > line.clientWidth) {
    count = Math.max(1, Math.min(count - 1, Math.floor((count * line.clientWidth) / line.scrollWidth)));
    show(count);
  }
}

/** The last attempts for a screen reader, such as “The last 2 attempts, the newest last: missed, landed”. */
function lastAttemptsInWords(attempts: readonly LoggedAttempt[]): string {
  const words = attempts.slice(-maxRead).map(({ landed }) => (landed ? 'landed' : 'missed'));
  if (words.length === 0) return 'No attempt yet';
  return words.length === 1
    ? `The last attempt: ${words.join()}`
    : `The last ${words.length} attempts, the newest last: ${words.join(', ')}`;
}

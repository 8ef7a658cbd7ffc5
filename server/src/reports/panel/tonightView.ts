import type { TonightView } from '../../protocol/panel/tonightView.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { TonightText } from '../tonight/tonightText.ts';

/** Tonight as the panel and the editor's lists show it. */
export function tonightView({ title, summary, whyNothing, steps, lines, swaps }: TonightText): TonightView {
  return {
    title,
    summary: sanitizeForTerminal(summary),
    whyNothing: sanitizeForTerminal(whyNothing),
    steps: steps.map(({ technique, name, text }) => ({
      technique,
      name: sanitizeForTerminal(name),
      text: sanitizeForTerminal(text),
    })),
    swaps: swaps.map(({ technique, instead, title: swap, reason }) => ({
      technique,
      instead,
      title: sanitizeForTerminal(swap),
      text: sanitizeForTerminal(reason),
    })),
    lines: lines.map(({ name, text }) => ({ label: name, text: sanitizeForTerminal(text) })),
  };
}

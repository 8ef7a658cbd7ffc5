import { facts, type Page, prose } from '../page.ts';
import type { TonightText } from './tonightText.ts';

/** Tonight as a page, for a terminal and as Markdown. */
export function tonightPage(
  { title, summary, steps, lines, swaps }: TonightText,
  head: { readonly title: string; readonly basis: string },
): Page {
  const practise =
    steps.length === 0
      ? [['Practise', summary] as const]
      : steps.map(({ name, text }, i) => [i === 0 ? 'Practise' : 'Then', `${name}, ${text}`] as const);
  return {
    title: `${title}: ${head.title}`,
    parts: [
      prose(head.basis),
      facts([
        ...practise,
        ...lines.map(({ name, text }) => [name, text] as const),
        ...swaps.map(
          ({ title, reason, write }) => ['A swap?', `${title}? ${reason} To swap, ${write}.`] as const,
        ),
      ]),
    ],
  };
}

/** Width of a wide letter of a label, in pixels: a name in capitals is cut rather too early than too late. */
const letterWidth = 7;

/** A text cut to a width in pixels, with an ellipsis where something is left out. */
export function fitLabel(text: string, width: number): string {
  const most = Math.max(3, Math.floor(width / letterWidth));
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
}

/** Width of a wide letter of a label, in pixels: a name in capitals is cut rather too early than too late. */
const letterWidth = 7;

/**
 * A text cut to a width in pixels, with an ellipsis where something is left out.
 *
 * @param ending stands behind the text, and is never cut
 */
export function fitLabel(text: string, width: number, ending = ''): string {
  const most = Math.max(3, Math.floor(width / letterWidth) - ending.length);
  const letters = [...text];
  if (letters.length <= most) return text + ending;
  const start = letters.slice(0, most - 1).join('');
  return `${start.trimEnd()}…${ending}`;
}

import { terminalStyle } from '../text/terminalText.ts';
import { controls, controlsInLine } from './controls.ts';

/** A name or a sentence on one line, without characters that act. */
export function sanitizeForTerminal(text: string): string {
  return sanitizeLine(text).trim();
}

/** The same for a whole line, which may begin with space. */
export function sanitizeLine(text: string): string {
  return text.replace(controls, ' ');
}

/**
 * The text of a whole answer, whose line ends stay, without any other character that acts.
 *
 * @param styled whether the codes of `terminalStyle` stay, which change only the weight and the colour of letters
 */
export function sanitizeOutput(text: string, styled: boolean): string {
  const parts = styled ? text.split(styleCodes) : [text];
  // Every second part is a code.
  return parts.map((part, index) => (index % 2 === 1 ? part : part.replace(controlsInLine, ' '))).join('');
}

/** Matches one code of the style, as a group: a text that is split by it keeps the codes. */
const styleCodes = new RegExp(
  `(${[terminalStyle.bold('|'), terminalStyle.dim('|'), terminalStyle.accent('|')]
    .flatMap((styled) => styled.split('|'))
    .map((code) => code.replaceAll('[', '\\['))
    .join('|')})`,
);

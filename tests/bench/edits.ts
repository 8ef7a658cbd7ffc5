import type { Random } from '../../samples/simulation/random.ts';
import type { Client, Expectation } from './client.ts';

/** One keystroke that makes a mistake, and the one that corrects it. */
export interface Mistake {
  readonly line: number;
  readonly character: number;
}

/** The protocol's number for the severity error. */
const errorSeverity = 1;

/** A part of a text, in offsets. */
export interface Within {
  readonly from: number;
  readonly to: number;
}

const everywhere: Within = { from: 0, to: Infinity };

/**
 * Places for mistakes, by turns an unreadable time (`time: 1:32.4x`) and an unknown key (`spreadx: 1.1`) in a
 * segment, and an unknown key in a technique (`difficultyx: 4`) or a use, all over the file or in a part of it.
 */
export function mistakesIn(
  text: string,
  count: number,
  random: Random,
  within: Within = everywhere,
): Mistake[] {
  const lines = text.slice(0, within.to).split('\n');
  const first = text.slice(0, within.from).split('\n').length - 1;
  const places = [/^ {4}time: .*$/, /^ {4}spread/, /^ {4}difficulty|^ {8}loses/]
    .map((pattern) =>
      lines.flatMap((content, line): Mistake[] => {
        const found = line < first ? null : pattern.exec(content);
        return found ? [{ line, character: found[0].length }] : [];
      }),
    )
    .filter((some) => some.length > 0);
  return Array.from({ length: count }, (_, i) => {
    const some = places[i % places.length] ?? [];
    const place = some[random.whole(0, some.length - 1)];
    if (!place) throw new Error('The generated route has no line to make a mistake in.');
    return place;
  });
}

/** The text with the mistake in it. */
export function withMistake(text: string, { line, character }: Mistake): string {
  return text
    .split('\n')
    .map((content, i) =>
      i === line ? `${content.slice(0, character)}x${content.slice(character)}` : content,
    )
    .join('\n');
}

/** Expects an error whose range contains a line. */
export const errorShownOn =
  (line: number): Expectation =>
  ({ diagnostics }) =>
    diagnostics.some(
      ({ severity, range }) =>
        severity === errorSeverity && range.start.line <= line && line <= range.end.line,
    );

/** The finding in a route that is larger than the model works with, as that of 50,000 lines is. */
const tooLarge = 'too-large';

/** Expects no error but that of a very large route, as in the generated one; hints and warnings are allowed. */
export const noErrorShown: Expectation = ({ diagnostics }) =>
  diagnostics.every(({ severity, code }) => severity !== errorSeverity || code === tooLarge);

/** Opens a document with one mistake in it; returns the milliseconds until its error is published. */
export function openWithMistake(
  client: Client,
  uri: string,
  text: string,
  mistake: Mistake,
): Promise<number> {
  return client.open(uri, withMistake(text, mistake), errorShownOn(mistake.line));
}

/** Opens a document with one mistake in it and corrects it: the server has then checked the whole text. */
export async function openAndCorrect(
  client: Client,
  uri: string,
  text: string,
  mistake: Mistake,
): Promise<void> {
  await openWithMistake(client, uri, text, mistake);
  await correctMistake(client, uri, mistake);
}

/** Makes a mistake; returns the milliseconds until its error is published. */
export function makeMistake(client: Client, uri: string, { line, character }: Mistake): Promise<number> {
  const start = { line, character };
  return client.change(uri, { range: { start, end: start }, text: 'x' }, errorShownOn(line));
}

/** Corrects a mistake; returns the milliseconds until its error is gone. */
export function correctMistake(client: Client, uri: string, { line, character }: Mistake): Promise<number> {
  const range = { start: { line, character }, end: { line, character: character + 1 } };
  return client.change(uri, { range, text: '' }, noErrorShown);
}

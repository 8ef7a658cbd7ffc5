import { controlsInLine } from './controls.ts';

/**
 * A value as indented JSON. JSON escapes some of the characters that act; here all of them are written as `\u009b`, so
 * that the text is safe to show in a terminal and means the same to a program.
 *
 * @param value what JSON can say: no function, no circle
 */
export function safeJson(value: unknown): string {
  return JSON.stringify(value, null, 2).replace(
    controlsInLine,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

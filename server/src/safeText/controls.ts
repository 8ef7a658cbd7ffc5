/**
 * Characters that act instead of being shown: control characters (C0, DEL and C1), line and paragraph separators, and
 * the marks that turn the reading direction around. Routes are shared, and a name in one could contain codes that
 * recolour a terminal, move its cursor or show a text in another order than it has. Written for a regular expression's
 * brackets; the line feed, the first of them, is listed apart.
 */
const lineFeed = '\\n';
const others =
  '\\u0000-\\u0009\\u000b-\\u001f\\u007f-\\u009f\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u206f\\ufeff\\ufff9-\\ufffb';

/** One or more characters that act. */
export const controls = new RegExp(`[${lineFeed}${others}]+`, 'g');

/** One character that acts, except a line feed. */
export const controlsInLine = new RegExp(`[${others}]`, 'g');

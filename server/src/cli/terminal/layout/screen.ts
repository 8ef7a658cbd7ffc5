import { plainStyle, terminalStyle, type TextStyle } from '../../../text/terminalText.ts';

/** What is known of the place that a text is written for. */
export interface Screen {
  /** Width in columns, at least `fewestColumns`. */
  readonly columns: number;
  readonly style: TextStyle;
  /** Whether it shows more than the letters and signs of ASCII. */
  readonly unicode: boolean;
  /**
   * Whether a sentence that a program may look for, such as a finding, is broken into lines, too: only where a person
   * reads it.
   */
  readonly breaksLines: boolean;
}

/** The values of `--color`. */
export const colorChoices = ['auto', 'always', 'never'] as const;
export type ColorChoice = (typeof colorChoices)[number];

/** What a stream and the environment say of it. */
interface Place {
  readonly isTTY: boolean;
  /** Width of the terminal; undefined where it is unknown. */
  readonly columns?: number | undefined;
}
type Env = Readonly<Record<string, string | undefined>>;

/** Width where nobody says another. */
const usualColumns = 80;
/** A text is not made narrower than this. */
const fewestColumns = 20;

/**
 * The screen that a stream leads to.
 *
 * @param color what `--color` says; it comes before the environment
 */
export function screenOf(place: Place, env: Env, color: ColorChoice = 'auto'): Screen {
  const asked = positive(env.COLUMNS);
  const columns = asked ?? (place.isTTY ? positive(place.columns) : undefined) ?? usualColumns;
  return {
    columns: Math.max(fewestColumns, columns),
    style: isStyled(place, env, color) ? terminalStyle : plainStyle,
    unicode: showsUnicode(env),
    breaksLines: place.isTTY || asked !== undefined,
  };
}

/**
 * Whether weight and colour may be written. `FORCE_COLOR` comes before `NO_COLOR`, as in Node itself; `0` and `false`
 * in it mean no colour.
 */
export function isStyled({ isTTY }: Place, env: Env, color: ColorChoice = 'auto'): boolean {
  if (color !== 'auto') return color === 'always';
  const { FORCE_COLOR: force, NO_COLOR: no, TERM: term } = env;
  if (force !== undefined) return force !== '0' && force !== 'false';
  return isTTY && !no && term !== 'dumb';
}

/**
 * POSIX: the first of the three that is not empty decides. Where none is set nothing is known, and terminals of today
 * show UTF-8.
 */
function showsUnicode(env: Env): boolean {
  if (env.TERM === 'dumb') return false;
  const locale = [env.LC_ALL, env.LC_CTYPE, env.LANG].find((one) => one !== undefined && one !== '');
  return locale === undefined || /utf-?8/i.test(locale);
}

function positive(written: string | number | undefined): number | undefined {
  const value = Number(written);
  return Number.isInteger(value) && value > 0 ? value : undefined;
}

import type { Chance } from '../arena/random.ts';

/** Words and signs that mean something in YAML or in our files, and values at the edge of what fits. */
const words = [
  ...[
    ':',
    ': ',
    '- ',
    '\n- ',
    '[',
    ']',
    '{',
    '}',
    ', ',
    '"',
    "'",
    '# ',
    '|',
    '>',
    '&a ',
    '*a',
    '<<: *a',
    '? ',
    '!!',
  ],
  ...[
    '---\n',
    '...\n',
    '%YAML 1.1\n',
    '\t',
    '\r',
    '\r\n',
    '\n\n',
    '\u0000',
    '\uFEFF',
    '\u2028',
    '\uD83C',
    '🏮',
    'é',
  ],
  ...[
    '0',
    '-1',
    '1e999',
    '-0',
    '.nan',
    '.inf',
    '0x10',
    '1_000',
    '9007199254740993',
    '1:32.4',
    '99:99',
    '9..16',
    '..',
  ],
  ...[
    '80 %',
    '~',
    'null',
    'true',
    'yes',
    '__proto__',
    'constructor',
    'toString',
    'hasOwnProperty',
    '2026-02-30',
  ],
  ...[
    '0001-01-01',
    '9999-12-31T23:59',
    '2026-10-05T19:30',
    '# allow ',
    '# allow unknown-key: why',
    '<<<<<<< ours\n',
  ],
  ...[
    '=======\n',
    '>>>>>>> theirs\n',
    'segments:',
    'techniques:',
    'sessions:',
    'blocks:',
    'runs:',
    'route: ',
    'game: ',
  ],
  ...[
    'extends: ',
    'needs: ',
    'saves: ',
    'loses: ',
    'ends_run: true',
    'landed: [1, 2]',
    'tape: lml',
    'tried: {',
    'was: [',
  ],
  ...[
    'pin: ',
    'states: ',
    'days: ',
    'target: ',
    'minutes: ',
    'technique: ',
    'difficulty: ',
    'luck: ',
    'miss: ',
    'with: ',
  ],
  ...[
    'take: ',
    'backup: ',
    'spot: ',
    'practice: {',
    'model: ',
    'ended: {',
    'lamp-hop',
    'crate-vault',
    'harbor',
    '@second',
  ],
];

type Change = (text: string, chance: Chance, other: string) => string;

const place = (text: string, { whole }: Chance): number => whole(0, text.length);

function span(text: string, chance: Chance, most = 60): [from: number, to: number] {
  const from = place(text, chance);
  return [from, Math.min(text.length, from + chance.whole(1, most))];
}

/** A whole line, with its line break. */
function line(text: string, chance: Chance): [from: number, to: number] {
  const from = text.lastIndexOf('\n', place(text, chance) - 1) + 1;
  const end = text.indexOf('\n', from);
  return [from, end < 0 ? text.length : end + 1];
}

const put = (text: string, from: number, to: number, by: string): string =>
  text.slice(0, from) + by + text.slice(to);
const word = ({ whole }: Chance): string => words[whole(0, words.length - 1)]!;

const changes: readonly Change[] = [
  (text, chance) => put(text, ...span(text, chance), ''),
  (text, chance) => {
    const at = place(text, chance);
    return put(text, at, at, word(chance));
  },
  (text, chance) => put(text, ...span(text, chance, 12), word(chance)),
  (text, chance) => {
    const at = place(text, chance);
    return put(text, at, at, String.fromCharCode(chance.whole(0, chance.next() < 0.7 ? 127 : 65_535)));
  },
  (text, chance) => put(text, ...line(text, chance), ''),
  (text, chance) => {
    const [from, to] = line(text, chance);
    const [at] = line(text, chance);
    return put(text, at, at, text.slice(from, to));
  },
  (text, chance) => {
    const [at] = line(text, chance);
    return put(text, at, at, ' '.repeat(chance.whole(1, 6)));
  },
  (text, chance) => {
    const [from] = line(text, chance);
    const spaces = /^ */.exec(text.slice(from))![0].length;
    return put(text, from, from + chance.whole(0, spaces), '');
  },
  (text, chance, other) => put(text, ...span(text, chance), other.slice(...span(other, chance, 200))),
  (text, chance) => {
    const [from, to] = span(text, chance, 8);
    return put(text, from, from, text.slice(from, to).repeat(chance.whole(2, 40)));
  },
  (text, chance) => {
    const numbers = [...text.matchAll(/\d+(\.\d+)?/g)];
    const found = numbers[chance.whole(0, numbers.length - 1)];
    if (!found) return text;
    const to = ['0', '1', '-5', '1e6', '0.000001', '99999999999', '3.', '..4'][chance.whole(0, 7)]!;
    return put(text, found.index, found.index + found[0].length, to);
  },
  (text, chance) => text.slice(0, place(text, chance)),
];

/** A text with a few changes; rarely one made of nothing but chance. */
export function mutated(text: string, chance: Chance, other: string): string {
  if (chance.next() < 0.02) {
    const length = chance.whole(0, 400);
    return Array.from({ length }, () =>
      chance.next() < 0.4 ? word(chance) : String.fromCharCode(chance.whole(0, 255)),
    ).join('');
  }
  let now = text;
  for (let left = chance.whole(1, 6); left > 0; left--)
    now = changes[chance.whole(0, changes.length - 1)]!(now, chance, other);
  return now.slice(0, 40_000);
}

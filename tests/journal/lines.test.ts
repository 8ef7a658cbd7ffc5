import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeLines, encodeLine, type JournalLine } from '../../server/src/journal/journalLines.ts';
import { stateFolder } from '../../server/src/journal/journalPaths.ts';

const word = fc.string({ minLength: 1 });
const moment = fc.constantFrom('2026-10-05T19:30', '2026-10-05');
const line: fc.Arbitrary<JournalLine> = fc.oneof(
  fc.record({
    kind: fc.constant('attempt' as const),
    id: word,
    at: fc.integer(),
    block: word,
    technique: word,
    local: moment,
    landed: fc.boolean(),
  }),
  fc.record({ kind: fc.constant('undo' as const), id: word, at: fc.integer(), of: word }),
  fc.record({ kind: fc.constant('saved' as const), id: word, at: fc.integer(), block: word }),
);

describe('lines of a journal', () => {
  test('are read as they were written, whatever their words hold', () => {
    fc.assert(
      fc.property(fc.array(line), (lines) => {
        expect(decodeLines(lines.map(encodeLine).join(''))).toEqual({ lines, torn: [] });
      }),
      { seed: 11 },
    );
  });

  test('a line torn at any place is passed over, counted, and spoils neither neighbour', () => {
    fc.assert(
      fc.property(line, line, line, fc.nat(), (before, torn, after, cut) => {
        const whole = encodeLine(torn).trimEnd();
        const part = whole.slice(0, 2 + (cut % (whole.length - 2)));
        const read = decodeLines(encodeLine(before) + part + encodeLine(after));
        expect(read).toEqual({ lines: [before, after], torn: [part.slice(1)] });
      }),
      { seed: 12 },
    );
  });

  test('what is no line of ours is counted as torn', () => {
    const foreign = ['[]', 'null', '7', '{"kind":"attempt"}', '{"kind":"toString","id":"a","at":1}'];
    expect(decodeLines(foreign.join('\n'))).toEqual({ lines: [], torn: foreign });
  });
});

describe('the folder of journals', () => {
  // S: XDG Base Directory Specification 0.8: $XDG_STATE_HOME, by default $HOME/.local/state; relative paths are ignored.
  test.each([
    [{ XDG_STATE_HOME: '/x/state' }, 'linux', '/x/state/routewright'],
    [{}, 'linux', '/home/r/.local/state/routewright'],
    [{ XDG_STATE_HOME: 'x/state' }, 'linux', '/home/r/.local/state/routewright'],
    [{ XDG_STATE_HOME: '/x/state' }, 'darwin', '/home/r/Library/Application Support/routewright'],
    [{ LOCALAPPDATA: '/local' }, 'win32', '/local/routewright'],
    [{ XDG_STATE_HOME: '/x/state', ROUTEWRIGHT_STATE_HOME: '/own' }, 'linux', '/own/routewright'],
  ] as const)('%j on %s is %s', (env, platform, folder) => {
    expect(stateFolder(env, platform, '/home/r')).toBe(folder);
  });
});

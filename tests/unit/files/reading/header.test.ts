import { describe, expect, it } from 'vitest';
import { type FileKind, fileKinds } from '../../../../server/src/files/fileKind.ts';
import { readHeader } from '../../../../server/src/files/reading/header.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { mistakeKinds, withTypingMistake } from '../../../helpers/mistakes.ts';
import { sampleText } from '../../../helpers/poolFiles.ts';

/** The same by the whole text. */
function inWhole(kind: FileKind, text: string): unknown {
  const { route, runner } = readSource(kind, text).outer;
  return { route, runner };
}

/** The first lines, with a runner, so that mistakes are near what is looked for. */
function beginning(kind: FileKind): string {
  const text = sampleText(kind).split('\n').slice(0, 12).join('\n');
  return text.includes('runner: ') ? text : text.replace(/^route: .*$/m, '$&\nrunner: Wren');
}

const logs = fileKinds.filter((kind) => kind !== 'route');

describe('the header of a file', () => {
  it.each(logs)('says of a %s file what the whole text says', (kind) => {
    expect(readHeader(kind, sampleText(kind))).toEqual(inWhole(kind, sampleText(kind)));
    expect(readHeader(kind, sampleText(kind)).route).toMatch(/lanternfall\.route\.yaml$/);
  });

  it.each(logs)('says the same of a %s file with any mistake near its beginning', (kind) => {
    const text = beginning(kind);
    let tried = 0;
    for (const { name, mistakesIn } of mistakeKinds) {
      for (const mistake of mistakesIn(text)) {
        const wrong = withTypingMistake(text, mistake);
        expect(readHeader(kind, wrong), `${name} at ${mistake.at}`).toEqual(inWhole(kind, wrong));
        tried++;
      }
    }
    expect(tried).toBeGreaterThan(40);
  });

  it.each([
    [
      'after the entries',
      'sessions:\n  - start: 2026-10-05\n    blocks: []\nrunner: Ada\nroute: a.route.yaml\n',
    ],
    ['on one line', '{ route: a.route.yaml, runner: Ada, sessions: [] }\n'],
    ['by an anchor', 'x-name: &name Ada\nrunner: *name\nroute: a.route.yaml\nsessions: []\n'],
    [
      'by an anchor among the entries',
      'sessions:\n  - { start: 2026-10-05, notes: &n Ada }\nrunner: *n\nroute: a.route.yaml\n',
    ],
    ['in quotes', '"route": "a.route.yaml"\n\'runner\': \'Ada\'\nsessions: []\n'],
    ['in a text with carriage returns', 'route: a.route.yaml\r\nrunner: Ada\r\nsessions: []\r\n'],
    ['behind a byte-order mark', '\uFEFFroute: a.route.yaml\nrunner: Ada\nsessions: []\n'],
    [
      'in a merge conflict',
      'route: a.route.yaml\n<<<<<<< ours\nrunner: Ada\n=======\nrunner: Bo\n>>>>>>> theirs\nsessions: []\n',
    ],
  ])('is found %s', (_, text) => {
    expect(readHeader('practice', text)).toEqual({ route: 'a.route.yaml', runner: 'Ada' });
    expect(readHeader('practice', text)).toEqual(inWhole('practice', text));
  });

  it('has nothing that does not fit, and nothing of an entry', () => {
    for (const text of [
      '',
      'route: 5\nrunner: [Ada]\n',
      'route: a.route.yaml\rrunner: Ada\rsessions: []\r',
      'route: a.txt\nrunner: ""\n',
      'sessions:\n  - start: 2026-10-05\n    runner: Ada\n    route: a.route.yaml\n',
      'notes: |\n  runner: Ada\n  route: a.route.yaml\n',
    ]) {
      expect(readHeader('practice', text), text).toEqual({ route: undefined, runner: undefined });
      expect(inWhole('practice', text), text).toEqual({ route: undefined, runner: undefined });
    }
  });
});

import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { applyEdits } from '../../../../server/src/files/edit/textEdit.ts';
import { listIncludes, setListMembership } from '../../../../server/src/files/edit/setListMembership.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';

/** The text after the edit; undefined where there is none. */
function after(text: string, word: string, listed: boolean, key = 'pin'): string | undefined {
  const edit = setListMembership(readSource('week', text), key, word, listed);
  return edit && applyEdits(text, [edit]);
}

describe('adding a word to a list of the week file', () => {
  it.each([
    ['no list yet', 'route: a.route.yaml\n', 'route: a.route.yaml\npin: [lamp-clip]\n'],
    ['no line end', 'route: a.route.yaml', 'route: a.route.yaml\npin: [lamp-clip]\n'],
    ['a list in a line', 'pin: [tide-skip] # mine\n', 'pin: [tide-skip, lamp-clip] # mine\n'],
    ['an empty list', 'pin: [] # none yet\n', 'pin: [lamp-clip] # none yet\n'],
    ['a key without a value', 'pin: # soon\nblock: 25\n', 'pin: [lamp-clip] # soon\nblock: 25\n'],
    [
      'a list below',
      'pin:\n  - tide-skip # mine\nblock: 25\n',
      'pin:\n  - tide-skip # mine\n  - lamp-clip\nblock: 25\n',
    ],
    ['a list at the margin', 'pin:\n- tide-skip\n', 'pin:\n- tide-skip\n- lamp-clip\n'],
    ['windows line ends', 'pin:\r\n  - tide-skip\r\n', 'pin:\r\n  - tide-skip\r\n  - lamp-clip\r\n'],
    ['a file in a line', '{ block: 25 }\n', '{ block: 25, pin: [lamp-clip] }\n'],
  ])('%s', (_, text, wanted) => {
    expect(after(text, 'lamp-clip', true)).toBe(wanted);
  });

  it('does nothing where it stands already', () => {
    expect(after('pin: [lamp-clip]\n', 'lamp-clip', true)).toBeUndefined();
  });

  it('quotes what YAML would read as no text', () => {
    expect(after('block: 25\n', 'null', true)).toBe('block: 25\npin: ["null"]\n');
  });

  it.each([
    ['an open quote', 'target: "41:30\npin: [a-b]\n'],
    ['a merge left unfinished', '<<<<<<< ours\npin: [a-b]\n=======\npin: []\n>>>>>>> theirs\n'],
    ['an alias', 'leave_out: &x [a-b]\npin: *x\n'],
  ])('leaves %s alone', (_, text) => {
    expect(after(text, 'lamp-clip', true)).toBeUndefined();
  });
});

describe('taking a word out of a list of the week file', () => {
  it.each([
    ['the only one in a line', 'pin: [lamp-clip] # mine\n', 'pin: [] # mine\n'],
    ['the first in a line', 'pin: [lamp-clip, tide-skip]\n', 'pin: [tide-skip]\n'],
    ['the last in a line', 'pin: [tide-skip, "lamp-clip"]\n', 'pin: [tide-skip]\n'],
    ['one below', 'pin:\n  - lamp-clip\n  - tide-skip\n', 'pin:\n  - tide-skip\n'],
    ['one with a comment', 'pin:\n  - lamp-clip # why\n  - tide-skip\n', 'pin:\n  # why\n  - tide-skip\n'],
    ['the only one below', 'pin:\n  - lamp-clip\nblock: 25\n', 'pin: []\nblock: 25\n'],
  ])('%s', (_, text, wanted) => {
    expect(after(text, 'lamp-clip', false)).toBe(wanted);
  });

  it('leaves a list alone that names it twice', () => {
    expect(after('pin: [lamp-clip, lamp-clip]\n', 'lamp-clip', false)).toBeUndefined();
  });
});

describe('any list', () => {
  const word = fc.constantFrom('lamp-clip', 'tide-skip', 'oil-slick', 'rope-swing', 'null');
  const text = fc
    .record({
      words: fc.uniqueArray(word, { maxLength: 4 }),
      flow: fc.boolean(),
      comments: fc.boolean(),
      after: fc.constantFrom('', 'block: 25 # minutes\n', 'leave_out: [net-climb]\n'),
    })
    .map(({ words, flow, comments, after: rest }) => {
      const note = comments ? ' # a note' : '';
      const quoted = words.map((one) => (one === 'null' ? '"null"' : one));
      const list = flow
        ? `pin: [${quoted.join(', ')}]${note}\n`
        : `pin:${note}\n${quoted.map((one) => `  - ${one}${note}\n`).join('')}`;
      return `route: a.route.yaml\n${list}${rest}`;
    });

  it('says what was asked afterwards, keeps every comment, and comes back by the opposite', () => {
    fc.assert(
      fc.property(text, word, fc.boolean(), (before, one, listed) => {
        const reading = readSource('week', before);
        const edit = setListMembership(reading, 'pin', one, listed);
        if (!edit) {
          // Only where it is so already, or where a comment stands in the way of emptying a list.
          expect(listIncludes(reading, 'pin', one) === listed || before.includes('# a note')).toBe(true);
          return;
        }
        const changed = readSource('week', applyEdits(before, [edit]));
        expect(listIncludes(changed, 'pin', one)).toBe(listed);
        expect(changed.problems.length).toBeLessThanOrEqual(reading.problems.length);
        const comments = (all: string): number => all.split('#').length;
        expect(comments(changed.text)).toBe(comments(before));
        const back = setListMembership(changed, 'pin', one, !listed);
        if (back)
          expect(listIncludes(readSource('week', applyEdits(changed.text, [back])), 'pin', one)).toBe(
            !listed,
          );
      }),
    );
  });
});

describe('several edits of one text', () => {
  it('are all meant for the text as it was', () => {
    const edits = [
      { start: 0, end: 1, text: 'A' },
      { start: 2, end: 3, text: 'CC' },
    ];
    expect(applyEdits('abc', edits)).toBe('AbCC');
  });
});

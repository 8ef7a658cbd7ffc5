import { describe, expect, it } from 'vitest';
import { readSource } from '../../../../server/src/files/reading/reading.ts';

// S: YAML 1.2.2, 5.5: white space is the space and the tab, and no other character.
const space = '\u00A0';
const sentence = 'A no-break space (U+00A0) stands here.';

/** A route with this in place of a line of it. */
function routeWith(lines: string): string {
  return `game: Lanternfall\ncategory: any%\nsegments:\n${lines}\n`;
}

describe('a no-break space where YAML wants a space', () => {
  it.each([
    ['behind the first key', `game:${space}Lanternfall\ncategory: any%\n`],
    ['behind a later key', `game: Lanternfall\ncategory:${space}any%\nsegments: []\n`],
    ['behind a key with a text', routeWith(`  - id: a\n    name:${space}Harbor\n    time: 1:32`)],
    ['behind a key with a time', routeWith(`  - id: a\n    name: Harbor\n    time:${space}1:32`)],
    ['behind a key of a map on one line', routeWith(`  - { id: a, time:${space}1:32 }`)],
    ['behind a dash', routeWith(`  -${space}id: a\n    time: 1:32`)],
    ['before a key', routeWith(`  - id: a\n${space.repeat(4)}time: 1:32`)],
    ['behind a space', routeWith(`  - id: a\n    name: ${space}H\n    time:${space}1:32`)],
    ['behind a key with a list', `game: L\ncategory: c\nsegments:${space}\n  - id: a\n    time: 1:32\n`],
  ])('is named, with its place: %s', (_, text) => {
    const told = readSource('route', text).problems.filter(({ message }) => message.startsWith(sentence));
    expect(told).toHaveLength(1);
    const [{ start, end, code }] = told as [(typeof told)[0]];
    expect({ code, text: text.slice(start, end) }).toEqual({ code: 'yaml-syntax', text: space });
    // An ordinary space mends it.
    const mended = readSource('route', text.replaceAll(space, ' '));
    expect(mended.problems).toEqual([]);
  });

  it('may stand inside a text, and is not blamed for another mistake', () => {
    expect(readSource('route', `game: Lantern${space}fall\ncategory: any%\n`).problems).toEqual([]);
    const other = readSource('route', `game: "Lantern${space}fall\ncategory: any%\n`).problems;
    expect(other.length).toBeGreaterThan(0);
    for (const { message } of other) expect(message).not.toContain('no-break');
  });

  it('is named alike after an edit elsewhere', () => {
    const text = routeWith(`  - id: a\n    name: H\n    time:${space}1:32`);
    const before = readSource('route', text);
    const edited = text.replace('Lanternfall', 'Lanternfalls');
    expect(readSource('route', edited, before).problems).toEqual(readSource('route', edited).problems);
  });
});

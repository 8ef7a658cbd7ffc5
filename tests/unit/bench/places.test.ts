import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver-protocol';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { createRandom } from '../../../samples/simulation/random.ts';
import { readSource } from '../../../server/src/files/reading/reading.ts';
import { placesFor, requestKinds } from '../../bench/asking.ts';
import { burstAt, burstPlaces, countOlderAfterNewer } from '../../bench/burst.ts';
import { folderOfRoutes } from '../../bench/checking.ts';
import { mistakesIn, errorShownOn, withMistake } from '../../bench/edits.ts';
import { removeFolder } from '../../bench/folder.ts';
import { makeLargeSegment } from '../../bench/large.ts';
import { makeRoute } from '../../bench/route.ts';
import { makeYears } from '../../bench/years.ts';

const { text } = makeRoute(1, { lines: 1_000 });

function after(before: string, changes: readonly TextDocumentContentChangeEvent[]): string {
  const document = TextDocument.create('file:///a', 'yaml', 1, before);
  return TextDocument.update(document, [...changes], 2).getText();
}

const problemsOn = (line: number, content: string) =>
  readSource('route', content).problems.filter(
    ({ start }) => content.slice(0, start).split('\n').length - 1 === line,
  );

describe('a burst of keys', () => {
  const bursts = burstPlaces(text, 5, createRandom(2)).map(burstAt);

  it('has thirty keys, of which only the last makes a mistake on its line', () => {
    for (const { keys, back, line } of bursts) {
      expect(keys).toHaveLength(30);
      for (let typed = 1; typed < 30; typed += 1)
        expect(problemsOn(line, after(text, keys.slice(0, typed)))).toEqual([]);
      expect(problemsOn(line, after(text, keys))).toHaveLength(1);
      expect(readSource('route', after(text, keys.slice(0, 29))).problems).toEqual([]);
      expect(after(text, [...keys, back])).toBe(text);
    }
  });

  it('is told of an older text by versions, or by what is no longer told', () => {
    const error = { severity: 1 as const, message: 'm', range: rangeOn(4) };
    const of = (version: number | undefined, told: boolean) => ({
      uri: 'file:///a',
      ...(version !== undefined && { version }),
      diagnostics: told ? [error] : [],
    });
    expect(countOlderAfterNewer([of(1, false), of(2, true), of(2, true)], errorShownOn(4))).toBe(0);
    expect(countOlderAfterNewer([of(2, true), of(1, true), of(2, true), of(1, false)], errorShownOn(4))).toBe(
      2,
    );
    expect(
      countOlderAfterNewer([of(undefined, false), of(undefined, true), of(undefined, true)], errorShownOn(4)),
    ).toBe(0);
    expect(countOlderAfterNewer([of(undefined, true), of(undefined, false)], errorShownOn(4))).toBe(1);
  });
});

function rangeOn(line: number) {
  return { start: { line, character: 0 }, end: { line, character: 9 } };
}

describe('questions', () => {
  it.each(requestKinds)('%s: asked where there is something to say, and the edit is taken back', (kind) => {
    for (const { edit, back, at } of placesFor(kind, text, 6, createRandom(3))) {
      const edited = after(text, [edit]);
      expect(edited).not.toBe(text);
      expect(after(text, [edit, back])).toBe(text);
      const line = edited.split('\n')[at.line]!;
      const expected = {
        'completion at a use': /^ {6}- [\w-]+x$/,
        'completion at a key': /^ {4}n$/,
        'hover on an id': /^ {6}- [\w-]+$/,
        'hover on a key': /^ {4}difficulty: \d$/,
      }[kind];
      expect(line).toMatch(expected);
      expect(at.character).toBeLessThanOrEqual(line.length);
      if (kind.startsWith('hover')) expect(readSource('route', edited).problems).toEqual([]);
    }
  });
});

describe('a large segment', () => {
  const large = makeLargeSegment(3, 900);
  const within = {
    from: large.indexOf('- id: long-way-down'),
    to: large.indexOf('\n  - id: ', large.indexOf('ledge-1')),
  };

  it('has so many lines, and no problem', () => {
    expect(large.split('\n')).toHaveLength(1_000 + 900 + 1);
    expect(readSource('route', large).problems).toEqual([]);
    expect(makeLargeSegment(3, 900)).toBe(large);
  });

  it('gets its mistakes inside it', () => {
    const [first, last] = [within.from, within.to].map(
      (offset) => large.slice(0, offset).split('\n').length - 1,
    );
    for (const mistake of mistakesIn(large, 9, createRandom(4), within)) {
      expect(mistake.line).toBeGreaterThan(first!);
      expect(mistake.line).toBeLessThanOrEqual(last!);
      expect(problemsOn(mistake.line, withMistake(large, mistake))).not.toEqual([]);
    }
  });
});

describe('ten years of logs', () => {
  it('are three evenings a week, without a problem', () => {
    const { practice, runs, week } = makeYears(5).texts;
    const starts = [...practice.matchAll(/start: (\S+)T/g)].map(([, date]) => Date.parse(date!));
    const days = new Set(starts.map((start) => new Date(start).getUTCDay()));
    expect(starts).toHaveLength(3 * 520);
    expect([...days].sort()).toEqual([1, 3, 5]);
    expect((starts.at(-1)! - starts[0]!) / 86_400_000).toBe(7 * 519 + 4);
    expect(readSource('runs', runs).problems).toEqual([]);
    expect(readSource('week', week!).problems).toEqual([]);
  });
});

describe('a folder of routes', () => {
  it('has a log beside every fifth', () => {
    const folder = folderOfRoutes(6, 11);
    try {
      const names = readdirSync(folder);
      expect(names.filter((name) => name.endsWith('.route.yaml'))).toHaveLength(11);
      expect(names.filter((name) => name.endsWith('.practice.yaml'))).toHaveLength(3);
      for (const name of names) {
        const kind = name.endsWith('.route.yaml') ? 'route' : 'practice';
        expect(readSource(kind, readFileSync(join(folder, name), 'utf8')).problems).toEqual([]);
      }
    } finally {
      removeFolder(folder);
    }
  });
});

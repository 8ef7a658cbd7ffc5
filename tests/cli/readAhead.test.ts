import { describe, expect, test } from 'vitest';
import { readAhead } from '../../server/src/cli/project/readAhead.ts';
import { folderOf, practice, route, routewright } from './place.ts';

/** A hundred routes, every third with a mistake, some with a log beside it, some that are no text. */
const many = Object.fromEntries(
  Array.from({ length: 100 }, (_, i): [string, string | Uint8Array][] => {
    const name = `r${String(i).padStart(3, '0')}`;
    const text = i % 3 === 0 ? route.replace('time: 2:10.0', 'tme: 2:10.0') : route;
    return [
      [`${name}.route.yaml`, i % 20 === 7 ? new Uint8Array([0xff, 0xfe, 0x00]) : text],
      ...(i % 5 === 0
        ? [[`${name}.practice.yaml`, practice.replace('lanternfall', name)] as [string, string]]
        : []),
    ];
  }).flat(),
);

describe('many files', () => {
  test('say the same asked of their folder, and each by name', async () => {
    const folder = folderOf(many);
    const asked = await routewright(folder, ['check']);
    expect(asked.code).toBe(2);
    expect(asked.out.match(/r\d{3}\.route\.yaml/g)?.length).toBeGreaterThan(30);
    const names = Object.keys(many);
    expect(await routewright(folder, ['check', ...names])).toEqual(asked);
    expect(await routewright(folder, ['check', ...names.toReversed()])).toEqual(asked);
  });

  test('that cannot be read are told of in the order of their names', async () => {
    const { out } = await routewright(folderOf(many), ['check']);
    expect(out.match(/r\d{3}(?=\.route\.yaml:1:1 .*not UTF-8)/g)).toEqual([
      'r007',
      'r027',
      'r047',
      'r067',
      'r087',
    ]);
  });
});

describe('reading ahead', () => {
  const uris = Array.from({ length: 200 }, (_, i) => `file:///a/${i}.route.yaml`);

  test('fetches each once, and not more than a few at a time', async () => {
    const asked: string[] = [];
    let open = 0;
    let most = 0;
    const ahead = readAhead(
      {
        list: () => Promise.resolve(uris),
        async read(uri) {
          asked.push(uri);
          most = Math.max(most, ++open);
          await new Promise((done) => setTimeout(done, 1));
          open--;
          return `text of ${uri}`;
        },
      },
      uris,
    );
    for (const uri of uris) expect(await ahead.read(uri, [])).toBe(`text of ${uri}`);
    expect(asked).toEqual(uris);
    expect(most).toBeGreaterThan(4);
    expect(most).toBeLessThan(20);
  });

  test('asks again where a file is asked for again, or was not named', async () => {
    let text = 'old';
    const ahead = readAhead({ list: () => Promise.resolve([]), read: () => Promise.resolve(text) }, uris);
    expect(await ahead.read(uris[0]!, [])).toBe('old');
    text = 'new';
    expect(await ahead.read(uris[0]!, [])).toBe('new');
    expect(await ahead.read('file:///a/other.route.yaml', [])).toBe('new');
  });
});

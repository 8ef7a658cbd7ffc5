import { describe, expect, it } from 'vitest';
import { logTable, previewLogTable } from '../../../../server/src/lsp/practice/logTable.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { desk, emptyPractice, sitDown, type Desk, type Sitting } from './desk.ts';

const techniques = 'Date\tTime of day\tTechnique\tMinutes\tLanded\tTries';
const evening = [
  techniques,
  '2026-09-01\t19:30\tCrate vault\t25\t12\t40',
  '2026-09-01\t8:05 pm\tlamp-hop\t20\t7\t30',
  '\t\t\t\t\t',
  '2026-09-03\t19:30:10\tCrate vault\t25\t20\t41',
].join('\r\n');

async function at(files: Readonly<Record<string, string>> = {}): Promise<{ place: Desk; sitting: Sitting }> {
  const place = desk(files);
  const sitting = await sitDown(place);
  await sitting.open('a.practice.yaml');
  return { place, sitting };
}

const paramsOf = (place: Desk, text: string, more: object = {}) => ({
  uri: place.uri('a.route.yaml'),
  text,
  ignored: [],
  ...more,
});

const preview = ({ place, sitting }: { place: Desk; sitting: Sitting }, text: string, more: object = {}) =>
  previewLogTable(sitting.services, sitting.logs, paramsOf(place, text, more));
const paste = ({ place, sitting }: { place: Desk; sitting: Sitting }, text: string, more: object = {}) =>
  logTable(sitting.services, sitting.logs, paramsOf(place, text, more));

describe('a table of past practice', () => {
  it.each([
    ['tabs', evening],
    ['commas', evening.replaceAll('\t', ',')],
    ['semicolons', evening.replaceAll('\t', ';')],
  ])('with %s is shown as it is understood, and nothing is written', async (_, text) => {
    const now = await at();
    expect(await preview(now, text)).toMatchObject({
      message: '3 blocks, from 2026-09-01 to 2026-09-03.',
      details: [
        '2026-09-01 19:30: Crate vault, 25 min, 12 of 40 landed',
        '2026-09-01 20:05: lamp-hop, 20 min, 7 of 30 landed',
        '2026-09-03 19:30:10: Crate vault, 25 min, 20 of 41 landed',
      ],
      into: 'a.practice.yaml',
    });
    expect(now.sitting.text('a.practice.yaml')).toBe('route: a.route.yaml\nsessions: []\n');
    now.sitting.end();
  });

  it('goes into the log in the order of its days, nothing lost or reordered, and not a second time', async () => {
    const old = `route: a.route.yaml
sessions:
  # the first evening
  - start: 2026-08-01T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }] # tired
  - start: 2026-10-05T19:30
    blocks:
      - { technique: lamp-hop, minutes: 25 }
`;
    const now = await at({ 'a.practice.yaml': old });
    expect(await paste(now, evening)).toMatchObject({
      said: 'Logged: 3 blocks. Added to a.practice.yaml, not saved yet; undo removes it.',
    });
    const text = now.sitting.text('a.practice.yaml');
    // Every line of before is there, in its order.
    let from = 0;
    for (const line of old.split(/(?<=\n)/)) {
      const found = text.indexOf(line, from);
      expect(found, line).toBeGreaterThanOrEqual(0);
      from = found + line.length;
    }
    expect([...text.matchAll(/start: (\S+)/g)].map(([, start]) => start)).toEqual([
      '2026-08-01T19:30',
      '2026-09-01T19:30',
      '2026-09-03T19:30:10',
      '2026-10-05T19:30',
    ]);
    expect(readSource('practice', text).problems).toEqual([]);
    await now.sitting.services.sync.ready();
    expect(await preview(now, evening)).toMatchObject({
      message: 'Everything in the table is in a.practice.yaml already.',
    });
    expect(await paste(now, evening)).toHaveProperty('message');
    expect(now.sitting.text('a.practice.yaml')).toBe(text);
    now.sitting.end();
  });

  it('is refused as a whole, with line, column and reason, where one row cannot be read', async () => {
    const now = await at();
    const wrong = [
      techniques,
      '2026-09-01\t19:30\tCrate vault\t25\t12\t40',
      '\t\tlamp-hop\t20\t7\t30', // the date above was a merged cell
      '2026-09-02\t1930\tlamp-hop\t20\t7\t30',
      '2026-09-02\t19:30\tLamp hopp\t20\t7\t30',
      '2026-09-02\t19:30\tlamp-hop\tlong\t7\t30',
      '2026-09-02\t19:30\tlamp-hop\t20\t31\t30',
    ].join('\n');
    const { message, details, into } = await preview(now, wrong);
    expect(message).toBe('5 rows of the table cannot be read. Nothing was written.');
    expect(into).toBeUndefined();
    expect(details).toEqual([
      expect.stringMatching(/^Line 3, column Date: No date stands here\. .* merged/) as string,
      'Line 4, column Time of day: The time of day is one such as 19:30, not 1930.',
      expect.stringMatching(/^Line 5, column Technique: The route has no technique Lamp hopp\./) as string,
      expect.stringMatching(/^Line 6, column Minutes: /) as string,
      'Line 7: Of 30 tries no more than 30 can land.',
    ]);
    expect(await paste(now, wrong)).toHaveProperty('message');
    expect(now.sitting.text('a.practice.yaml')).toBe('route: a.route.yaml\nsessions: []\n');
    now.sitting.end();
  });

  it('is asked about where a column is not known or dates can be read in two ways, in words of the editor', async () => {
    const now = await at();
    const table = 'Date\tTechnique\tMinutes\tMood\n3/4/2026\tlamp-hop\t20\tfine\n';
    const unknown = await preview(now, table);
    expect(unknown).toMatchObject({ leaveOut: ['Mood'], orders: [] });
    const dates = await preview(now, table, { ignored: ['Mood'] });
    expect(dates).toMatchObject({ leaveOut: [], orders: ['day-first', 'month-first'] });
    expect(unknown.message + dates.message).not.toContain('--');
    const order = (order: string) => preview(now, table, { ignored: ['Mood'], dates: order });
    expect(await order('day-first')).toMatchObject({ message: '1 block, all on 2026-04-03.' });
    expect(await order('month-first')).toMatchObject({
      message: '1 block, all on 2026-03-04.',
      details: ['Nothing is read from: Mood.', '2026-03-04: lamp-hop, 20 min'],
    });
    now.sitting.end();
  });

  it('may be of 5,000 rows', async () => {
    const now = await at();
    const day = (at: number) => new Date(Date.UTC(2020, 0, 1 + at)).toISOString().slice(0, 10);
    const rows = Array.from(
      { length: 5000 },
      (_, at) => `${day(at % 1700)}\tlamp-hop\t20\t${at % 30}\t${30 + at}`,
    );
    const text = ['Date\tTechnique\tMinutes\tLanded\tTries', ...rows].join('\n');
    expect(await preview(now, text)).toMatchObject({
      message: '5000 blocks, from 2020-01-01 to 2024-08-26.',
    });
    expect(await paste(now, text)).toMatchObject({
      said: expect.stringMatching(/^Logged: 5000 blocks\./) as string,
    });
    const log = now.sitting.text('a.practice.yaml');
    expect(log.match(/technique: lamp-hop/g)).toHaveLength(5000);
    expect(log.match(/start: /g)).toHaveLength(1700);
    now.sitting.end();
  });

  it('goes in again where the runner took it out after it was saved, also when the journal has put it away', async () => {
    const now = await at();
    const rows = Array.from({ length: 400 }, (_, at) => `2026-09-01\tlamp-hop\t20\t${at}\t${400 + at}`);
    const text = ['Date\tTechnique\tMinutes\tLanded\tTries', ...rows].join('\n');
    for (const time of ['first', 'second', 'third']) {
      expect(await paste(now, text), time).toMatchObject({
        said: expect.stringMatching(/^Logged: 400 /) as string,
      });
      expect(now.sitting.text('a.practice.yaml').match(/technique: lamp-hop/g), time).toHaveLength(400);
      await now.sitting.save('a.practice.yaml');
      now.sitting.type('a.practice.yaml', emptyPractice);
      await now.sitting.save('a.practice.yaml');
      await now.sitting.services.sync.ready();
    }
    expect(now.sitting.text('a.practice.yaml')).toBe(emptyPractice);
    now.sitting.end();
  });

  it('shows markup and signs that act on a screen as text or not at all', async () => {
    const now = await at();
    const text = `${techniques}\tNotes\n2026-09-01\t19:30\t<img src=x>\u001b[31m\t25\t1\t2\t=cmd()\n`;
    const { details } = await preview(now, text);
    expect(details.join()).toContain('<img src=x>');
    expect(details.join()).not.toContain('\u001b');
    expect(await preview(now, '<table><tr><td>x</td></tr></table>')).toHaveProperty('message');
    expect(await preview(now, '')).toMatchObject({ details: [] });
    now.sitting.end();
  });
});

describe('a table of past runs', () => {
  const runs = 'Date\tHarbor gate\tTotal\n2026-09-01T20:00\t1:31.8\t3:40\n2026-09-02T20:00\t91,5\t3:39.2\n';

  it('begins the log of runs once it is agreed to, and is written there', async () => {
    const now = await at();
    const shown = await preview(now, runs);
    expect(shown).toMatchObject({ message: '2 runs, from 2026-09-01 to 2026-09-02.', into: 'a.runs.yaml' });
    const first = await paste(now, runs);
    expect(first).toMatchObject({ begin: { uri: now.place.uri('a.runs.yaml'), create: true } });
    now.sitting.end();
    const begun = await at({ 'a.runs.yaml': 'route: a.route.yaml\nruns: []\n' });
    expect(await paste(begun, runs)).toMatchObject({
      said: expect.stringMatching(/^Logged: 2 runs\./) as string,
    });
    const text = begun.sitting.text('a.runs.yaml');
    expect(text).toMatch(/start: 2026-09-01T20:00, .*harbor: 1:31\.8.*\n.*start: 2026-09-02T20:00, /);
    expect(readSource('runs', text).problems).toEqual([]);
    begun.sitting.end();
  });
});

import { createRequire } from 'node:module';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Asked, askEverything } from './askEverything.ts';
import { bundleServer, startProcess } from './server.ts';

/** Turns Markdown into HTML, with all that an editor might turn on. Its package has no types. */
const MarkdownIt = createRequire(import.meta.url)('markdown-it') as new (options: object) => {
  render(text: string): string;
};
const markdown = new MarkdownIt({ html: true, linkify: false });

/** What would become a link, a picture, a tag, code, a heading, a table or an icon, were it not escaped. */
const evil =
  '[run](command:evil.run) ![pic](http://evil.test/p) <img src=x onerror=evil> <http://evil.test> **evil** `evil` | evil | $(evil) &lt;evil>';
const name = JSON.stringify(evil);

const files: Readonly<Record<string, string>> = {
  'a.route.yaml': `game: ${name}
category: ${name}
notes: ${name}
segments:
  - { id: harbor, name: ${name}, time: 1:32.4, notes: ${name}, techniques: [{ technique: crate-vault, id: one, notes: ${name} }] }
  - { id: stairs, name: ${name}, time: 2:10.0, techniques: [wall-kick] }
techniques:
  crate-vault: { name: ${name}, difficulty: 4, saves: 3.2, loses: 1.4, notes: ${name}, needs: [wall-kick], was: box-jump }
  wall-kick: { name: ${name}, difficulty: 2, saves: 1.5, loses: 0.5, notes: ${name} }
`,
  'a.practice.yaml': `route: a.route.yaml
runner: ${name}
sessions:
  - { start: 2026-10-05T19:30, notes: ${name}, blocks: [{ technique: crate-vault, minutes: 25, landed: [60, 150], notes: ${name} }] }
  - { start: 2026-10-06T19:30, blocks: [{ technique: wall-kick, minutes: 25, landed: [90, 150] }] }
`,
  'a.runs.yaml': `route: a.route.yaml
runner: ${name}
runs:
  - { start: 2026-10-07T19:30, times: { harbor: 91.5 }, tried: { crate-vault: [1, 2] }, notes: ${name} }
`,
  'a.week.yaml': `route: a.route.yaml
runner: ${name}
pin: [crate-vault]
states: { wall-kick: learning }
`,
};

/** Every Markdown text in an answer. */
function markdownIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  if (Array.isArray(value)) return value.flatMap(markdownIn);
  const fields = value as Record<string, unknown>;
  const own = [fields['kind'] === 'markdown' ? fields['value'] : undefined, fields['markdown']];
  return [...own.filter((text) => typeof text === 'string'), ...Object.values(fields).flatMap(markdownIn)];
}

let asked: readonly Asked[];
beforeAll(async () => {
  const bundle = await bundleServer('main');
  const server = startProcess(bundle.file);
  await server.client.initialize(null, { today: '2026-11-09' });
  const all: Asked[] = [];
  for (const [file, text] of Object.entries(files)) await server.client.open(`file:///m/${file}`, text);
  for (const [file, text] of Object.entries(files))
    all.push(...(await askEverything(server.client, `file:///m/${file}`, text, 9)));
  asked = all;
  await server.stop();
  await bundle.remove();
});
afterAll(() => expect(asked.length).toBeGreaterThan(300));

const texts = () => [
  ...new Set(
    asked.flatMap(({ method, answer }) => {
      if (answer === '') return [];
      const said: unknown = JSON.parse(answer);
      return method === 'routewright/panelMarkdown' && typeof said === 'string' ? [said] : markdownIn(said);
    }),
  ),
];

it('the server sends Markdown that holds the names', () => {
  const named = texts().filter((text) => markdown.render(text).includes('command:evil.run'));
  expect(named.length).toBeGreaterThan(5);
  for (const method of ['hover', 'completion'].map((one) => `textDocument/${one}`))
    expect(
      asked.some((one) => one.method === method && one.answer.includes('evil')),
      method,
    ).toBe(true);
});

it('rendered, no name becomes a link, a picture, a tag, or emphasis of its own', () => {
  for (const text of texts()) {
    const html = markdown.render(text);
    // What is left of a name is text: none of it inside a tag, and none of it a tag.
    for (const [tag] of html.matchAll(/<[^>]*>/g)) expect(tag, text).not.toMatch(/evil|img|onerror/);
    expect(html, text).not.toMatch(/<(strong|code|em|td|th|h\d)>\s*evil\s*</);
  }
});

import { describe, expect, it } from 'vitest';
import { inlayHintProvider } from '../../../../server/src/lsp/editing/inlayHints.ts';
import { harborRoute, openEditor, uriOf } from '../editor.ts';

const whole = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };

/** The hints of a log, each with the text of its line before it. */
async function hints(name: string, text: string, range = whole): Promise<string[]> {
  const { services } = await openEditor({ 'a.route.yaml': harborRoute, [name]: text });
  const lines = text.split('\n');
  return inlayHintProvider(services)({ textDocument: { uri: uriOf(name) }, range })
    .filter(({ label }) => label !== 'min' && label !== 's')
    .map(({ position, label }) => `${lines[position.line]!.slice(0, position.character)}⟵${label as string}`);
}

describe('hints in a practice log', () => {
  const log = (counts: string) =>
    `route: a.route.yaml\nsessions:\n  - start: 2026-10-05\n    blocks:\n      - { technique: lamp-hop, minutes: 25, ${counts} }\n`;

  it.each([
    ['landed: [12, 40]', 'landed: [12, 40]⟵30 %'],
    ['seen: [6, 10]', 'seen: [6, 10]⟵60 %'],
    ['landed: [0, 9]', 'landed: [0, 9]⟵<1 %'],
  ])('show the rate behind %s', async (counts, shown) => {
    const [hint, ...more] = await hints('a.practice.yaml', log(counts));
    expect(hint?.endsWith(shown), hint).toBe(true);
    expect(more).toEqual([]);
  });

  it.each([
    'landed: [0, 0]',
    'landed: [41, 40]',
    'landed: [12]',
    'landed: 12',
    'landed: [a, b]',
    'tape: lml',
  ])('show none behind %s', async (counts) => {
    expect(await hints('a.practice.yaml', log(counts))).toEqual([]);
  });

  it('are those of the lines that are asked about', async () => {
    const range = { start: { line: 0, character: 0 }, end: { line: 3, character: 0 } };
    expect(await hints('a.practice.yaml', log('landed: [12, 40]'), range)).toEqual([]);
  });
});

describe('hints in a run log', () => {
  const log = (run: string) => `route: a.route.yaml\nruns:\n  - { start: 2026-10-05T19:30, ${run} }\n`;

  it('show what all times of a run come to', async () => {
    const [hint] = await hints('a.runs.yaml', log('times: { harbor: 1:31.8, rope-yard: 128.4 }'));
    expect(hint?.endsWith('rope-yard: 128.4 }⟵3:40.2 for 2 segments'), hint).toBe(true);
  });

  it.each([
    'times: { harbor: 1:31.8 }',
    'times: { harbor: 1:31.8, rope-yard: soon }',
    'times: { harbor: 1:31.8, rope-yard: 2:08 }, total: 3:41',
    'times: { harbor: 1:31.8, rope-yard: 2:08 }, ended: { at: rope-yard, why: reset }',
  ])('show nothing for %s', async (run) => {
    expect(await hints('a.runs.yaml', log(run))).toEqual([]);
  });
});

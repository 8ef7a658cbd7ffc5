import { describe, expect, it } from 'vitest';
import { tokenLegend as legend } from '../../../../server/src/lsp/editing/tokenLegend.ts';
import { semanticTokensProvider } from '../../../../server/src/lsp/editing/semanticTokens.ts';
import { harborRoute, openEditor } from '../editor.ts';

/** The tokens of the file in front, read back as an editor reads them: each `word type modifiers`. */
async function tokens(files: Record<string, string>, lines?: [number, number]): Promise<string[]> {
  const editor = await openEditor(files);
  const rows = editor.text(editor.uri.split('/').at(-1)!).split('\n');
  const range = lines && {
    start: { line: lines[0], character: 0 },
    end: { line: lines[1], character: 0 },
  };
  const { data } = semanticTokensProvider(editor.services)({ ...editor.params, ...(range && { range }) });
  const found: string[] = [];
  let line = 0;
  let start = 0;
  for (let at = 0; at < data.length; at += 5) {
    const [down, along, length, type, bits] = data.slice(at, at + 5) as [
      number,
      number,
      number,
      number,
      number,
    ];
    start = down > 0 ? along : start + along;
    line += down;
    const set = legend.tokenModifiers.filter((_, bit) => bits & (1 << bit));
    found.push([rows[line]!.slice(start, start + length), legend.tokenTypes[type], ...set].join(' '));
  }
  return found;
}

const week = 'route: a.route.yaml\nstates: { crate-vault: in-run, lamp-clip: learning }\n';

describe('semantic tokens', () => {
  it('tell ids by what they name, and techniques by their state', async () => {
    expect(await tokens({ 'a.route.yaml': harborRoute, 'a.week.yaml': week })).toEqual([
      'harbor event declaration',
      'crate-vault function inRun',
      'lamp-clip function learning',
      'second variable declaration',
      'gate enumMember',
      'lamp-hop function unlearned',
      'rope-yard event declaration',
      'lamp-hop function unlearned',
      'crate-vault function declaration inRun',
      'lamp-clip function declaration learning',
      'lamp-hop function unlearned',
      'lamp-hop function declaration unlearned',
    ]);
  });

  it('tell former ids, unknown ones and uses in logs', async () => {
    const runs =
      'route: a.route.yaml\nruns:\n  - start: 2026-10-05\n    tried: { "🏮": [1, 1], box-jump: [1, 1], lamp-clip@second: [0, 1] }\n';
    expect(await tokens({ 'a.runs.yaml': runs, 'a.route.yaml': harborRoute, 'a.week.yaml': week })).toEqual([
      '🏮 function',
      'box-jump function deprecated inRun',
      'lamp-clip function learning',
      'second variable',
    ]);
  });

  it('answer for some lines only where asked', async () => {
    expect(await tokens({ 'a.route.yaml': harborRoute }, [9, 10])).toEqual(['rope-yard event declaration']);
  });

  it('say no state where several runners are named', async () => {
    const files = {
      'a.route.yaml': harborRoute,
      'a.week.yaml': `runner: Ada\n${week}`,
      'b.week.yaml': `runner: Ben\n${week}`,
    };
    expect((await tokens(files))[1]).toBe('crate-vault function');
  });
});

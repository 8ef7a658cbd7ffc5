import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { standingModifiers, tokenLegend as legend } from '../../../../server/src/lsp/editing/tokenLegend.ts';
import { standingLabels } from '../../../../server/src/queries/standingText.ts';
import { semanticTokensProvider } from '../../../../server/src/lsp/editing/semanticTokens.ts';
import { harborRoute, openEditor, updateEstimates, uriOf, type Editor } from '../editor.ts';

/** The tokens of the file in front once there are estimates, as an editor reads them: each `word type modifiers`. */
async function tokens(files: Record<string, string>, lines?: [number, number]): Promise<string[]> {
  const editor = await openEditor(files);
  await updateEstimates(editor);
  return tokensIn(editor, lines);
}

/** The tokens of the file in front as they are now. */
function tokensIn(editor: Editor, lines?: [number, number]): string[] {
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

const week = 'route: a.route.yaml\nstates: { crate-vault: in-run, lamp-hop: learning }\n';

describe('semantic tokens', () => {
  it('tell ids by what they name, and techniques by where they stand', async () => {
    expect(await tokens({ 'a.route.yaml': harborRoute, 'a.week.yaml': week })).toEqual([
      'harbor event declaration',
      'crate-vault function inRun',
      'lamp-clip function waiting',
      'second variable declaration',
      'gate enumMember',
      'lamp-hop function learning',
      'rope-yard event declaration',
      'lamp-hop function learning',
      'crate-vault function declaration inRun',
      'lamp-clip function declaration waiting',
      'lamp-hop function learning',
      'lamp-hop function declaration learning',
    ]);
  });

  it('tell former ids, unknown ones and uses in logs', async () => {
    const runs =
      'route: a.route.yaml\nruns:\n  - start: 2026-10-05\n    tried: { "🏮": [1, 1], box-jump: [1, 1], lamp-clip@second: [0, 1] }\n';
    expect(await tokens({ 'a.runs.yaml': runs, 'a.route.yaml': harborRoute, 'a.week.yaml': week })).toEqual([
      '🏮 function',
      'box-jump function deprecated inRun',
      'lamp-clip function waiting',
      'second variable',
    ]);
  });

  it('say no standing until there are estimates, and the last one while an edit has none yet', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute, 'a.week.yaml': week });
    expect(tokensIn(editor)[1]).toBe('crate-vault function');
    await updateEstimates(editor);
    const before = tokensIn(editor);
    expect(before[1]).toBe('crate-vault function inRun');
    const updates = editor.services.inlineEstimates.updateCount;
    editor.services.workspace.edit(uriOf('a.week.yaml'), week.replace('crate-vault: in-run, ', ''));
    expect(tokensIn(editor)).toEqual(before);
    expect(editor.services.inlineEstimates.updateCount).toBe(updates);
    await updateEstimates(editor);
    expect(tokensIn(editor)[1]).toBe('crate-vault function notBegun');
    editor.services.checks.dispose();
  });

  it('have a modifier of the manifest for every standing', () => {
    const manifest = JSON.parse(
      readFileSync(new URL('../../../../package.json', import.meta.url), 'utf8'),
    ) as {
      contributes: { semanticTokenModifiers: { id: string }[] };
    };
    const ids = manifest.contributes.semanticTokenModifiers.map(({ id }) => id);
    expect(Object.values(standingModifiers)).toEqual(ids);
    expect(Object.keys(standingModifiers).sort()).toEqual(Object.keys(standingLabels).sort());
    const known = new Set(legend.tokenModifiers);
    expect(ids.filter((id) => !known.has(id))).toEqual([]);
  });

  it('look different for each standing by weight, slant or a line, and leave the colours to the theme', () => {
    const { contributes } = JSON.parse(
      readFileSync(new URL('../../../../package.json', import.meta.url), 'utf8'),
    ) as {
      contributes: {
        configurationDefaults: {
          'editor.semanticTokenColorCustomizations': { rules: Record<string, Record<string, boolean>> };
        };
      };
    };
    const { rules } = contributes.configurationDefaults['editor.semanticTokenColorCustomizations'];
    const styles = Object.values(standingModifiers).map((id) => rules[`function.${id}:routewright`] ?? {});
    expect(new Set(styles.map((style) => Object.keys(style).sort().join())).size).toBe(styles.length);
    for (const [selector, style] of Object.entries(rules)) {
      expect(selector).toMatch(/^function\.\w+:routewright$/);
      for (const [key, value] of Object.entries(style)) {
        expect(['bold', 'italic', 'underline', 'strikethrough']).toContain(key);
        expect(value).toBe(true);
      }
    }
  });

  it('answer for some lines only where asked', async () => {
    expect(await tokens({ 'a.route.yaml': harborRoute }, [9, 10])).toEqual(['rope-yard event declaration']);
  });

  it('say no standing where several runners are named', async () => {
    const files = {
      'a.route.yaml': harborRoute,
      'a.week.yaml': `runner: Ada\n${week}`,
      'b.week.yaml': `runner: Ben\n${week}`,
    };
    expect((await tokens(files))[1]).toBe('crate-vault function');
  });
});

import { describe, expect, it } from 'vitest';
import { definitionProvider } from '../../../../server/src/lsp/editing/definition.ts';
import { harborRoute, openEditor, shown } from '../editor.ts';

const runs = `route: a.route.yaml
runs:
  - start: 2026-10-05T19:30
    times: { harbor: 91.5 }
    tried: { lamp-clip@second: [0, 1], box-jump: [1, 1] }
    ended: { at: rope-yard, why: miss, by: lamp-hop }
`;

async function goTo(files: Record<string, string>): Promise<string | null> {
  const editor = await openEditor(files);
  const location = definitionProvider(editor.services)(editor.params);
  return location && shown(editor, location);
}

describe('go to definition', () => {
  const from = (cursor: string) =>
    goTo({ 'a.route.yaml': harborRoute, 'a.runs.yaml': runs.replace(cursor.replace('‸', ''), cursor) });

  it('goes from a log to the technique, by its use and by its former id too', async () => {
    expect(await from('lamp-clip@sec‸ond')).toBe('a.route.yaml:14:2 lamp-clip');
    expect(await from('‸box-jump')).toBe('a.route.yaml:13:2 crate-vault');
    expect(await from('by: lamp‸-hop')).toBe('a.route.yaml:20:2 lamp-hop');
  });

  it('goes from a log to the segment', async () => {
    expect(await from('har‸bor: 91.5')).toBe('a.route.yaml:3:8 harbor');
    expect(await from('at: rope-y‸ard')).toBe('a.route.yaml:9:8 rope-yard');
  });

  it('goes from a log to its route', async () => {
    expect(await from('route: a.route‸.yaml')).toBe('a.route.yaml:0:0 ');
  });

  it('goes into the route that another extends', async () => {
    const route =
      'game: Lanternfall\ncategory: all lamps\nextends: a.route.yaml\nsegments:\n  - { id: gate, time: 9, techniques: [lamp-‸hop] }\n';
    expect(await goTo({ 'a.route.yaml': harborRoute, 'b.route.yaml': route })).toBe(
      'a.route.yaml:20:2 lamp-hop',
    );
  });

  it('goes nowhere from what is defined nowhere', async () => {
    expect(await goTo({ 'a.route.yaml': harborRoute.replace('- crate-vault', '- crate-va‸lt') })).toBeNull();
    expect(await goTo({ 'a.route.yaml': harborRoute, 'b.week.yaml': 'route: no‸.route.yaml\n' })).toBeNull();
  });
});

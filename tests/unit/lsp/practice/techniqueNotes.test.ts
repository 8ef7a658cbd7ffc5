import { describe, expect, it } from 'vitest';
import { techniqueNotes } from '../../../../server/src/lsp/practice/techniqueNotes.ts';
import { openEditor, uriOf } from '../editor.ts';

const route = (technique: string): string => `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:30, techniques: [crate-vault] }
techniques:
${technique}`;

async function notesOf(technique: string, id = 'crate-vault', file = 'a.practice.yaml') {
  const { services } = await openEditor({
    'a.route.yaml': route(technique),
    'a.practice.yaml': 'route: a.route.yaml\nsessions: []\n',
    'b.route.yaml':
      'extends: a.route.yaml\ncategory: all lamps\nsegments:\n  - { id: yard, time: 1:00, techniques: [crate-vault] }\n',
  });
  return techniqueNotes(services, { uri: uriOf(file), technique: id });
}

const written = `  crate-vault:
    difficulty: 3
    saves: 3
    notes: |
      Left of the crates.
      Jump *late*.
    links: [https://example.org/vault, "file:///etc/passwd", 12]
`;

describe('notes and links of a technique', () => {
  it('are those of the route, with their line ends, asked for by its log', async () => {
    expect(await notesOf(written)).toEqual({
      notes: 'Left of the crates.\nJump *late*.',
      links: ['https://example.org/vault', 'file:///etc/passwd', '12'],
    });
  });

  it('come from the route that it extends, too', async () => {
    expect((await notesOf(written, 'crate-vault', 'b.route.yaml')).notes).toMatch(/^Left of the crates/);
  });

  it('are none where nothing is written, and none of a technique that is not there', async () => {
    const none = { notes: '', links: [] };
    expect(await notesOf('  crate-vault: { difficulty: 3, saves: 3 }\n')).toEqual(none);
    expect(await notesOf(written, 'lamp-hop')).toEqual(none);
  });

  it('have a length that a view can show, and no character that acts', async () => {
    const links = Array.from({ length: 50 }, (_, at) => `https://example.org/${at}`).join(', ');
    const long = `  crate-vault: { difficulty: 3, saves: 3, notes: "\\u202e${'ab '.repeat(5000)}", links: [${links}] }\n`;
    const { notes, links: shown } = await notesOf(long);
    expect(notes).toHaveLength(6001);
    expect(notes).toMatch(/^ab ab .*…$/);
    expect(shown).toHaveLength(20);
  });
});

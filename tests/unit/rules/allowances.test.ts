import { describe, expect, it } from 'vitest';
import { openEditor } from '../lsp/editor.ts';

const route = `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 90, techniques: [lamp-hop, wall-kick] }
techniques:
  # above
  lamp-hop: { difficulty: 2, saves: 1.5, loses: 1, practice: { attempt: 20, reload: 40 } }
  wall-kick: { difficulty: 2, saves: 1.5, loses: 1, practice: { attempt: 20, reload: 40 } }
`;

/** Code and line of what is found. */
async function found(text: string): Promise<string[]> {
  const editor = await openEditor({ 'a.route.yaml': text });
  return editor.services.findings
    .of(editor.uri)
    .map((finding) => `${finding.code} ${editor.services.positions.range(editor.uri, finding).start.line}`);
}

async function message(comment: string, text = route): Promise<string | undefined> {
  const editor = await openEditor({ 'a.route.yaml': text.replace('# above', comment) });
  return editor.services.findings.of(editor.uri).find(({ code }) => code === 'needless-allowance')?.message;
}

const above = (comment: string) => route.replace('# above', comment);

describe('a comment that lets a finding stand', () => {
  it('speaks of the line below it', async () => {
    expect(await found(route)).toEqual(['slow-cycle 6', 'slow-cycle 7']);
    expect(await found(above('# allow slow-cycle: the lift takes 40 s'))).toEqual(['slow-cycle 7']);
    expect(await found(above('# allow slow-cycle: the lift takes 40 s\n\n  # and another line'))).toEqual([
      'slow-cycle 9',
    ]);
  });

  it('speaks of its own line where something stands before it', async () => {
    const behind = route.replace(
      'reload: 40 } }\n  wall',
      'reload: 40 } } # allow slow-cycle: the lift\n  wall',
    );
    expect(await found(behind)).toEqual(['slow-cycle 7']);
  });

  it('speaks of the whole file where it says so', async () => {
    expect(await found(`# allow slow-cycle in this file: an old console\n${route}`)).toEqual([]);
  });

  it('is no comment inside a text', async () => {
    const notes = `notes: |\n  # allow slow-cycle in this file: not a comment\n${route}`;
    expect(await found(notes)).toHaveLength(2);
    expect(await found(`notes: "x # allow slow-cycle in this file: no"\n${route}`)).toHaveLength(2);
    expect(await found(`notes: x#allow slow-cycle in this file\n${route}`)).toHaveLength(2);
  });
});

describe('such a comment is found itself', () => {
  it('where nothing is found that it stands for', async () => {
    expect(await message('# allow technique-unused: kept for later')).toBe(
      'No `technique-unused` is found on this line, so that this comment allows nothing. Delete it.',
    );
    expect(await message('# allow technique-unused in this file: kept for later')).toContain('in this file');
    expect(await message('# allow slow-cycle: the lift takes 40 s')).toBeUndefined();
  });

  it('where it gives no reason, and then it allows nothing', async () => {
    expect(await message('# allow slow-cycle: ')).toContain('without saying why');
    expect(await found(above('# allow slow-cycle'))).toEqual([
      'needless-allowance 5',
      'slow-cycle 6',
      'slow-cycle 7',
    ]);
  });

  it('where no finding has such a code, with the one that was meant', async () => {
    expect(await message('# allow slow-cycel: the lift')).toContain('Did you mean `slow-cycle`?');
    expect(await message('# allow no-such-thing-at-all: why')).toContain('Correct it or delete the comment.');
  });

  it('where it speaks of an error, which cannot be allowed', async () => {
    const text = `${route}  net-climb: { difficulty: 2, saves: 1, needs: [nothing] } # allow unknown-technique: later\n`;
    expect(await message('# above', text)).toContain('errors cannot be allowed');
    expect(await found(text)).toContain('unknown-technique 8');
  });

  it('not before the rule has looked that waits for a forecast', async () => {
    expect(await message('# allow lands-too-rarely: for the show')).toBeUndefined();
    const editor = await openEditor({ 'a.route.yaml': above('# allow lands-too-rarely: for the show') });
    const { services } = editor;
    for (const project of services.findings.stale()) Array.from(services.findings.forecast(project));
    services.findings.checkAll();
    expect(services.findings.of(editor.uri).map(({ code }) => code)).toContain('needless-allowance');
  });
});

import { renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  endBlock,
  logAttempt,
  countedAttempts,
  startBlock,
  undoAttempt,
} from '../../../../server/src/lsp/practice/blocks.ts';
import { openJournal } from '../../../../server/src/journal/journal.ts';
import { systemClock } from '../../../../server/src/journal/clock.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import type { BlockParams } from '../../../../server/src/protocol/messages/practiceBlock.ts';
import { desk, eventually, sitDown, webJournals, type Desk, type Sitting } from './desk.ts';

const name = 'a.practice.yaml';

async function begin(at: Desk, { logs }: Sitting, technique = 'crate-vault'): Promise<BlockParams> {
  const uri = at.uri(name);
  const started = await startBlock(logs, { uri, technique });
  if ('message' in started) throw new Error(started.message);
  return { uri, technique, block: started.block };
}

async function press({ logs }: Sitting, params: BlockParams, tape: string): Promise<void> {
  for (const letter of tape) {
    const result = await logAttempt(logs, { ...params, landed: letter === 'l' });
    if ('message' in result) throw new Error(result.message);
  }
}

const ended = { counts: null, leaveOut: false, until: Number.MAX_SAFE_INTEGER } as const;

/** All tapes in a practice file, in their order. */
function tapes(text: string): string[] {
  const { value, problems } = readSource('practice', text);
  expect(problems).toEqual([]);
  const sessions = (value.sessions ?? []) as { blocks: { tape?: string }[] }[];
  return sessions.flatMap(({ blocks }) => blocks.map(({ tape }) => tape ?? ''));
}

// The same must hold on a disk and on the web.
describe.each(['disk', 'web'])('a block, with its journal on the %s', (where) => {
  const sit = (at: Desk): Promise<Sitting> => (where === 'disk' ? sitDown(at) : sitDown(at, webJournals()));

  it('is an entry of the open file once it is ended, with a tape of the attempts that count', async () => {
    const at = desk();
    const sitting = await sit(at);
    await sitting.open(name);
    const block = await begin(at, sitting);
    await press(sitting, block, 'lmml');
    const back = await undoAttempt(sitting.logs, block);
    expect('attempts' in back && back.attempts.map(({ landed }) => landed)).toEqual([true, false, false]);
    await press(sitting, block, 'm');
    const result = await endBlock(sitting.logs, { ...block, ...ended });
    expect(result).toMatchObject({ said: `Added to ${name}, not saved yet; undo removes it.` });
    expect(tapes(sitting.text(name))).toEqual(['lmmm']);
    // The edit is the user's to save.
    expect(at.disk(name)).not.toContain('tape');
    sitting.end();
  });

  it('waits outside a file that is held back, until an edit of it', async () => {
    const at = desk();
    const sitting = await sit(at);
    sitting.services.workspace.holdBack([at.uri(name)]);
    await sitting.open(name);
    const block = await begin(at, sitting);
    await press(sitting, block, 'lm');
    const result = await endBlock(sitting.logs, { ...block, ...ended });
    expect('said' in result && result.said).toContain('stopped answering while it worked on this file');
    expect(sitting.text(name)).toBe(at.disk(name));
    sitting.type(name, `# mended\n${at.disk(name)}`);
    const second = await begin(at, sitting, 'lamp-hop');
    await press(sitting, second, 'm');
    await endBlock(sitting.logs, { ...second, ...ended });
    expect(tapes(sitting.text(name))).toEqual(['lm', 'm']);
    expect(sitting.text(name)).toContain('# mended');
    sitting.end();
  });

  it('takes nothing back where nothing is left, and says nothing of other blocks', async () => {
    const at = desk();
    const sitting = await sit(at);
    await sitting.open(name);
    const first = await begin(at, sitting);
    await press(sitting, first, 'l');
    await endBlock(sitting.logs, { ...first, ...ended });
    const second = await begin(at, sitting, 'lamp-hop');
    expect(await undoAttempt(sitting.logs, second)).toEqual({ attempts: [] });
    expect(tapes(sitting.text(name))).toEqual(['l']);
    sitting.end();
  });

  it('takes two numbers where nothing was counted one by one, and nothing where it is left out', async () => {
    const at = desk();
    const sitting = await sit(at);
    await sitting.open(name);
    const counted = await begin(at, sitting);
    await endBlock(sitting.logs, { ...counted, ...ended, counts: [12, 20] });
    expect(sitting.text(name)).toContain('landed: [12, 20]');
    const before = sitting.text(name);
    const left = await begin(at, sitting);
    expect(await endBlock(sitting.logs, { ...left, ...ended, leaveOut: true })).toMatchObject({ minutes: 0 });
    await sitting.logs.opened(at.uri(name));
    expect(sitting.text(name)).toBe(before);
    sitting.end();
  });

  it('stays out once the user undid it, before and after saving, while the next block goes in', async () => {
    const at = desk();
    const sitting = await sit(at);
    await sitting.open(name);
    const before = sitting.text(name);
    const first = await begin(at, sitting);
    await press(sitting, first, 'lll');
    await endBlock(sitting.logs, { ...first, ...ended });
    sitting.type(name, before);
    const second = await begin(at, sitting);
    await press(sitting, second, 'mm');
    await endBlock(sitting.logs, { ...second, ...ended });
    expect(tapes(sitting.text(name))).toEqual(['mm']);
    await sitting.save(name);
    const third = await begin(at, sitting);
    await press(sitting, third, 'l');
    await endBlock(sitting.logs, { ...third, ...ended });
    expect(tapes(sitting.text(name))).toEqual(['mm', 'l']);
    sitting.end();
  });

  it('waits for a text that stands still, and stays in the journal where the text is broken', async () => {
    const at = desk();
    const sitting = await sit(at);
    await sitting.open(name);
    sitting.refuse = 2;
    const block = await begin(at, sitting);
    await press(sitting, block, 'l');
    await endBlock(sitting.logs, { ...block, ...ended });
    expect(tapes(sitting.text(name))).toEqual(['l']);
    const whole = sitting.text(name);
    sitting.type(name, `${whole}x: [`);
    const next = await begin(at, sitting);
    await press(sitting, next, 'm');
    const result = await endBlock(sitting.logs, { ...next, ...ended });
    expect('said' in result && result.said).toContain(`Safe in the journal, not in ${name} yet`);
    sitting.type(name, whole);
    await sitting.logs.opened(at.uri(name));
    expect(tapes(sitting.text(name))).toEqual(['l', 'm']);
    sitting.end();
  });
});

describe('a block whose editor ended', () => {
  it('is taken up by the next start, which says what it took up, once', async () => {
    const at = desk();
    const first = await sitDown(at);
    const block = await begin(at, first);
    await press(first, block, 'llm');
    await begin(at, first, 'lamp-hop'); // another begun: the first is over, and was never put into the file
    first.end();
    const second = await sitDown(at);
    await second.logs.recover();
    expect(tapes(second.text(name))).toEqual(['llm']);
    expect(second.told).toHaveLength(1);
    expect(second.told[0]).toContain('Crate vault');
    expect(second.told[0]).toContain('2 of 3 landed');
    await second.save(name);
    second.end();
    const third = await sitDown(at);
    await third.logs.recover();
    await third.open(name);
    await third.logs.opened(at.uri(name));
    expect(third.told).toEqual([]);
    expect(tapes(third.text(name))).toEqual(['llm']);
    third.end();
  });

  it('goes on in the next start with the attempts that it had', async () => {
    const at = desk();
    const first = await sitDown(at);
    const block = await begin(at, first);
    await press(first, block, 'lm');
    first.end();
    const second = await sitDown(at);
    await second.logs.recover();
    const stand = await countedAttempts(second.logs, block);
    expect('attempts' in stand && stand.attempts.length).toBe(2);
    await press(second, block, 'l');
    await endBlock(second.logs, { ...block, ...ended });
    expect(tapes(second.text(name))).toEqual(['lml']);
    expect(second.told).toEqual([]);
    second.end();
  });
});

describe('attempts of a file that was renamed', () => {
  it('are told at the next start in the same folder, with the way to bring them in, and in no other', async () => {
    const at = desk();
    const first = await sitDown(at);
    const block = await begin(at, first);
    await press(first, block, 'lm');
    first.end();
    renameSync(join(at.folder, name), join(at.folder, 'autumn.practice.yaml'));
    const second = await sitDown(at);
    await second.logs.recover();
    second.logs.reportLeftBehind([at.uri('')]);
    expect(second.told).toEqual([
      `2 attempts wait in a journal for ${name}, which is no longer there. If it was moved or renamed, ` +
        `bring it in on the command line: routewright log --moved-from ${name} NEW-FILE`,
    ]);
    second.logs.reportLeftBehind([desk().uri(''), 'memory:/other']);
    expect(second.told).toHaveLength(1);
    second.end();
  });
});

describe('what others log while the file is open', () => {
  it('is counted for the block that runs, and told', async () => {
    const at = desk();
    const sitting = await sitDown(at);
    await sitting.open(name);
    const block = await begin(at, sitting);
    await press(sitting, block, 'l');
    // Of two in the same millisecond neither comes first.
    await new Promise((resolve) => setTimeout(resolve, 3));
    const other = openJournal(join(at.folder, name), { state: at.state, clock: systemClock });
    if ('reason' in other) throw new Error(other.reason);
    const now = systemClock.now();
    other.append({
      kind: 'attempt',
      id: other.newId(),
      at: now,
      local: systemClock.local(now),
      technique: block.technique,
      block: block.block,
      landed: false,
    });
    expect(other.isOpenElsewhere()).toBe(true);
    await eventually(() => sitting.changed.length > 0);
    const stand = await countedAttempts(sitting.logs, block);
    expect('attempts' in stand && stand.attempts.map(({ landed }) => landed)).toEqual([true, false]);
    await endBlock(sitting.logs, { ...block, ...ended });
    expect(tapes(sitting.text(name))).toEqual(['lm']);
    other.close();
    sitting.end();
  });

  it('is put into the text as soon as it is over', async () => {
    const at = desk();
    const sitting = await sitDown(at);
    await sitting.open(name);
    await sitting.logs.opened(at.uri(name));
    const other = openJournal(join(at.folder, name), { state: at.state, clock: systemClock });
    if ('reason' in other) throw new Error(other.reason);
    const now = systemClock.now();
    other.append({
      kind: 'entry',
      id: 'b-elsewhere',
      at: now,
      local: systemClock.local(now),
      entry: { technique: 'lamp-hop', minutes: 10, landed: [3, 9] },
      after: '',
    });
    await eventually(() => sitting.text(name).includes('b-elsewhere'));
    expect(sitting.told).toEqual([]);
    other.close();
    sitting.end();
  });
});

describe('time that is no practice', () => {
  it('ends with the block, however late somebody says so', async () => {
    const at = desk();
    const sitting = await sitDown(at);
    await sitting.open(name);
    const block = await begin(at, sitting);
    const result = await endBlock(sitting.logs, { ...block, ...ended, until: systemClock.now() - 5000 });
    expect('minutes' in result && result.minutes).toBeLessThanOrEqual(0.1);
    sitting.end();
  });
});

describe('a client that cannot edit', () => {
  it('claims nothing, so that the command line folds', async () => {
    const at = desk();
    const sitting = await sitDown(at);
    Object.assign(sitting.client, { appliesEdits: false });
    await sitting.open(name);
    await sitting.logs.opened(at.uri(name));
    const other = openJournal(join(at.folder, name), { state: at.state, clock: systemClock });
    if ('reason' in other) throw new Error(other.reason);
    expect(other.isOpenElsewhere()).toBe(false);
    other.close();
    sitting.end();
  });

  it('is told where a journal cannot be written that nothing was logged', async () => {
    const at = desk();
    writeFileSync(join(at.state, 'journal'), 'in the way');
    const sitting = await sitDown(at);
    const started = await startBlock(sitting.logs, { uri: at.uri(name), technique: 'crate-vault' });
    expect('message' in started && started.message).toMatch(/^Nothing was logged\./);
    sitting.end();
  });
});

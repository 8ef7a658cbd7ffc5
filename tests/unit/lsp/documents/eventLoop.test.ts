import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Coalescer } from '../../../../server/src/lsp/documents/eventLoop.ts';
import { harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';
import { fileAt } from '../../../../server/src/lsp/documents/fileServices.ts';

const faked = ['performance', 'setTimeout', 'clearTimeout', 'setImmediate', 'clearImmediate'] as const;
beforeEach(() => void vi.useFakeTimers({ toFake: [...faked] }));
afterEach(() => void vi.useRealTimers());

/** One turn of the event loop: what was put off to the next one runs, and not what that puts off in its turn. */
function turn(): void {
  vi.advanceTimersToNextTimer();
}

describe('Lull', () => {
  const counted = (): { lull: Coalescer; runs: () => number } => {
    let runs = 0;
    return { lull: new Coalescer(() => runs++), runs: () => runs };
  };

  it('comes once a turn has passed without a call', () => {
    const { lull, runs } = counted();
    lull.restart();
    expect([lull.waiting, runs()]).toEqual([true, 0]);
    turn();
    expect([lull.waiting, runs()]).toEqual([true, 0]);
    turn();
    expect([lull.waiting, runs()]).toEqual([false, 1]);
    vi.advanceTimersByTime(1000);
    expect(runs()).toBe(1);
  });

  it('comes once behind many calls, of which each is heard a turn after the other', () => {
    const { lull, runs } = counted();
    for (let call = 0; call < 30; call++) {
      lull.restart();
      turn();
    }
    expect(runs()).toBe(0);
    turn();
    expect(runs()).toBe(1);
  });

  it('does not come where it is cancelled, and comes again after that', () => {
    const { lull, runs } = counted();
    lull.restart();
    lull.cancel();
    vi.advanceTimersByTime(10);
    expect([lull.waiting, runs()]).toEqual([false, 0]);
    lull.restart();
    vi.advanceTimersByTime(10);
    expect(runs()).toBe(1);
  });
});

describe('edits', () => {
  const uri = uriOf('a.route.yaml');
  const type = ({ services }: Editor, version: number, text: string) => {
    const at = { line: 0, character: 'game: Lantern'.length };
    services.sync.change(uri, [{ range: { start: at, end: at }, text }], version);
  };
  /** Of all that was published since a number of times. */
  const versions = ({ published }: Editor, since: number) =>
    published.slice(since).map(({ version }) => version);

  it('are checked once behind the last of those that have arrived', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute });
    vi.advanceTimersByTime(1000);
    const since = editor.published.length;
    for (let key = 2; key <= 31; key++) {
      type(editor, key, 'x');
      turn();
    }
    expect(versions(editor, since)).toEqual([]);
    turn();
    expect(versions(editor, since)).toEqual([31]);
    vi.advanceTimersByTime(100);
    type(editor, 32, 'x');
    vi.advanceTimersByTime(1);
    expect(versions(editor, since)).toEqual([31, 32]);
    editor.services.checks.dispose();
  });

  it('are all known to an answer in the middle of a burst', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute });
    vi.advanceTimersByTime(1000);
    const since = editor.published.length;
    for (let key = 2; key <= 5; key++) type(editor, key, 'x');
    editor.services.checks.checkPendingEdits();
    expect(versions(editor, since)).toEqual([5]);
    expect(fileAt(editor.services.workspace, uri)?.reading.text).toContain('Lanternxxxxfall');
    editor.services.checks.dispose();
  });
});

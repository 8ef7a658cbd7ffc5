import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Beat } from '../../../server/src/features/pace.ts';
import { harborRoute, openEditor, uriOf, type Editor } from './editor.ts';

beforeEach(() => void vi.useFakeTimers({ toFake: ['performance', 'setTimeout', 'clearTimeout'] }));
afterEach(() => void vi.useRealTimers());

describe('Beat', () => {
  it('is calm again after its rest, or after as long as the last piece of work took', () => {
    const beat = new Beat(10);
    expect(beat.calm).toBe(true);
    beat.do(() => undefined);
    expect(beat.calm).toBe(false);
    vi.advanceTimersByTime(10);
    expect(beat.calm).toBe(true);
    beat.do(() => void vi.advanceTimersByTime(40));
    vi.advanceTimersByTime(39);
    expect(beat.calm).toBe(false);
    vi.advanceTimersByTime(1);
    expect(beat.calm).toBe(true);
  });
});

describe('edits', () => {
  const uri = uriOf('a.route.yaml');
  const type = ({ session }: Editor, version: number, text: string) => {
    const at = { line: 0, character: 'game: Lantern'.length };
    session.change(uri, [{ range: { start: at, end: at }, text }], version);
  };
  /** Of all that was published since a number of times. */
  const versions = ({ published }: Editor, since: number) =>
    published.slice(since).map(({ version }) => version);

  it('are checked at once where none came before, and a burst of them once at its end', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute });
    vi.advanceTimersByTime(1000);
    const since = editor.published.length;
    for (let key = 2; key <= 31; key++) type(editor, key, 'x');
    expect(versions(editor, since)).toEqual([2]);
    vi.advanceTimersByTime(3);
    expect(versions(editor, since)).toEqual([2, 31]);
    vi.advanceTimersByTime(100);
    expect(versions(editor, since)).toEqual([2, 31]);
    type(editor, 32, 'x');
    expect(versions(editor, since)).toEqual([2, 31, 32]);
    editor.session.dispose();
  });

  it('are all known to an answer in the middle of a burst', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute });
    vi.advanceTimersByTime(1000);
    const since = editor.published.length;
    for (let key = 2; key <= 5; key++) type(editor, key, 'x');
    editor.session.settle();
    expect(versions(editor, since)).toEqual([2, 5]);
    expect(editor.session.file(uri)?.reading.text).toContain('Lanternxxxxfall');
    editor.session.dispose();
  });
});

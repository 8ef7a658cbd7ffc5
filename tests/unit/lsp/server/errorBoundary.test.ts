import { CancellationTokenSource, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { expect, it } from 'vitest';
import { ErrorBoundary } from '../../../../server/src/lsp/server/errorBoundary.ts';

function boundary() {
  const lines: string[] = [];
  const made = new ErrorBoundary({ error: (line) => lines.push(line) }, () => Promise.resolve());
  return { made, lines };
}

it('turns an exception into an answer and one line in the log', async () => {
  const { made, lines } = boundary();
  const failing = made.request('Hover', () => {
    throw new Error('out of paper');
  });
  const answer = await failing({}, new CancellationTokenSource().token);
  expect(answer).toBeInstanceOf(ResponseError);
  expect(answer).toMatchObject({ code: ErrorCodes.InternalError });
  expect(lines.length).toBe(1);
  expect(lines[0]).toContain('Hover: Error: out of paper');
});

it('answers what was cancelled as cancelled, and does not work it out', async () => {
  const { made, lines } = boundary();
  const source = new CancellationTokenSource();
  source.cancel();
  let asked = 0;
  const answer = await made.request('Ranking', () => ++asked)({}, source.token);
  expect(answer).toMatchObject({ code: LSPErrorCodes.RequestCancelled });
  expect(asked).toBe(0);
  expect(lines).toEqual([]);
});

it('logs what goes wrong in a notification and goes on', async () => {
  const { made, lines } = boundary();
  await made.notification('An edit', () => Promise.reject(new Error('no')))(undefined);
  expect(lines[0]).toContain('An edit: Error: no');
});

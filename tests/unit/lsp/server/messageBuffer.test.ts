import type { Message } from 'vscode-languageserver';
import { expect, it } from 'vitest';
import { MessageBuffer } from '../../../../server/src/lsp/server/messageBuffer.ts';

it('lets a greeting through, holds all else back, and then keeps the order', () => {
  const gate = new MessageBuffer();
  const heard: string[] = [];
  const say = (method: string) =>
    gate.handleMessage({ jsonrpc: '2.0', method } as Message, (message) => {
      heard.push((message as Message & { method: string }).method);
      // What comes while the gate opens comes after all that was held back.
      if (heard.length === 2) void say('late');
    });
  for (const method of ['initialized', 'initialize', 'first', 'second']) void say(method);
  expect(heard).toEqual(['initialize']);
  gate.release();
  expect(heard).toEqual(['initialize', 'initialized', 'first', 'second', 'late']);
  void say('after');
  expect(heard.at(-1)).toBe('after');
});

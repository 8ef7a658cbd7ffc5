import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import {
  answerRequest,
  notification,
  request,
  requestOr,
  takeNotification,
} from '../../../server/src/protocol/messages/message.ts';
import { listOf, numberShape, optional, record, textShape } from '../../../server/src/protocol/shape.ts';

const countRequest = request('test/count', {
  params: record({ words: listOf(textShape), least: optional(numberShape) }),
  result: numberShape,
});
const heardNotification = notification('test/heard', record({ word: textShape }));

/** Two ends of one connection. */
function connected() {
  const [there, back] = [new PassThrough(), new PassThrough()];
  const logged: string[] = [];
  const log = (text: string): void => void logged.push(text);
  const asker = createMessageConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const answerer = createMessageConnection(new StreamMessageReader(there), new StreamMessageWriter(back), {
    error: log,
    warn: log,
    info: log,
    log,
  });
  asker.listen();
  answerer.listen();
  return { asker, answerer, logged };
}

describe('a request', () => {
  it('reaches its handler with params that fit', async () => {
    const { asker, answerer } = connected();
    answerRequest(answerer, countRequest, ({ words, least = 0 }) => Math.max(least, words.length));
    expect(await asker.sendRequest(countRequest, { words: ['a', 'b'] })).toBe(2);
    expect(await asker.sendRequest(countRequest, { words: [], least: 3 })).toBe(3);
  });

  it.each<[object, string]>([
    [{}, 'test/count: params.words must be a list of at most 20000.'],
    [{ words: ['a', 1] }, 'test/count: params.words[1] must be a text of at most 20000 characters.'],
    [{ words: [], least: 'x' }, 'test/count: params.least must be a finite number.'],
  ])('with %j is answered by the place, and its handler is not called', async (params, message) => {
    const { asker, answerer } = connected();
    answerRequest(answerer, countRequest, () => {
      throw new Error('called');
    });
    await expect(asker.sendRequest('test/count', params)).rejects.toMatchObject({ code: -32602, message });
  });

  it('has another result where the other side does not know it, and only there', async () => {
    const { asker, answerer } = connected();
    expect(await requestOr(asker, countRequest, { words: [] }, -1)).toBe(-1);
    answerRequest(answerer, countRequest, () => {
      throw new Error('broken');
    });
    await expect(requestOr(asker, countRequest, { words: [] }, -1)).rejects.toThrow('broken');
  });
});

it('a notification that does not fit is in the log, and the next is heard', async () => {
  const { asker, answerer, logged } = connected();
  const heard: string[] = [];
  takeNotification(answerer, heardNotification, ({ word }) => void heard.push(word));
  answerRequest(answerer, countRequest, () => 0);
  await asker.sendNotification('test/heard', { word: 1 });
  await asker.sendNotification(heardNotification, { word: 'b' });
  await asker.sendRequest(countRequest, { words: [] });
  expect(heard).toEqual(['b']);
  expect(logged.join()).toContain('test/heard: params.word must be a text');
});

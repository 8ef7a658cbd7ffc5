// Loaded into every thread of the editor's extensions. In a thread of its own, which the server is, no work on a text
// with these words in it comes to an end: a fault planted for the test.
import { isMainThread } from 'node:worker_threads';

if (!isMainThread) {
  const { exec } = RegExp.prototype;
  RegExp.prototype.exec = function (text) {
    if (typeof text === 'string' && text.includes('# without an end')) for (;;);
    return exec.call(this, text);
  };
}

/** A child process of the arena: takes tasks one at a time and sends back what came of them. */
import { perform } from './task.ts';
import type { Task } from './task.ts';

process.on('message', (task: Task) => {
  process.send?.(perform(task));
});
process.send?.('ready');

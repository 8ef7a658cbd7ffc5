/** A child process of the arena of pools: takes tasks one at a time and sends back what came of them. */
import { performPooled } from './pooledTask.ts';
import type { PooledTask } from './pooledTask.ts';

process.on('message', (task: PooledTask) => {
  process.send?.(performPooled(task));
});
process.send?.('ready');

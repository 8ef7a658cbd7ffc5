import { commandLoaders, type RunnableCommand } from './commandLoaders.ts';

/** Every command with its description, in the order of the help: for help, completion and the nearest name. */
export const commands: readonly RunnableCommand[] = await Promise.all(
  Object.values(commandLoaders).map((load) => load()),
);

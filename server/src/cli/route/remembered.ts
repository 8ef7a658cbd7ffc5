import { answersFolder, keptAnswer } from '../../disk/answerCache.ts';
import { type Io, withProgress } from '../terminal/io.ts';

/**
 * The answer of slow work, from an earlier process where the same was asked of the same files; with a line about it on the terminal
 * while it is worked on. From source nothing is kept, since nothing tells one state of the source from the next.
 *
 * @param input everything that the answer depends on, as plain data; the first is the name of the question
 */
export function remembered<T>(
  io: Io,
  progress: string,
  input: readonly [string, ...unknown[]],
  work: () => T,
): T {
  return withProgress(io, progress, () => kept(io, input, work));
}

/** The same without a line on the terminal. */
export function kept<T>(
  { build, env }: Pick<Io, 'build' | 'env'>,
  input: readonly [string, ...unknown[]],
  work: () => T,
): T {
  return build === undefined ? work() : keptAnswer(answersFolder(env, process.platform), build, input, work);
}

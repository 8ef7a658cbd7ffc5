/**
 * A failure of the test machinery that the reader can act on: the message is one or two plain sentences, so
 * the ways in print it alone, without a stack. Anything else that is thrown is a mistake in the machinery.
 */
export class HostProblem extends Error {
  override name = 'HostProblem';
}

/** The text to print for a caught value: the sentence of a {@link HostProblem}, else the whole stack. */
export function describeFailure(failure: unknown): string {
  if (failure instanceof HostProblem) return failure.message;
  if (failure instanceof Error) return failure.stack ?? failure.message;
  return String(failure);
}

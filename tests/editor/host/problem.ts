/**
 * A failure of the test environment that the reader can repair. Its message is one or two plain sentences, which the
 * programs print without a stack. Any other error is a mistake in the code of the tests.
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

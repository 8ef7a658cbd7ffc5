/** Runs all steps of a computation and returns its result. */
export function runToCompletion<T>(steps: Generator<undefined, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

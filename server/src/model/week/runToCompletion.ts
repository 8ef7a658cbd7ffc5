/** The end of what is worked out in steps. */
export function runToCompletion<T>(steps: Generator<undefined, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

/**
 * A computation in short steps. Between two steps its caller can do other work, such as answering an editor, or stop
 * for good. What the steps have put into a cache by then stays there, so that the same work begun again goes on from
 * there.
 */
export type Steps<T> = Generator<undefined, T>;

/** Runs all steps of a computation and returns its result. */
export function runToCompletion<T>(steps: Steps<T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

/** The same computation as a function that runs all of its steps, for callers that have nothing else to do meanwhile. */
export function inOneGo<Asked extends unknown[], T>(
  inSteps: (...asked: Asked) => Steps<T>,
): (...asked: Asked) => T {
  return (...asked) => runToCompletion(inSteps(...asked));
}

/** Makes something of each item, each in a step of its own. */
export function* mapInSteps<In, Out>(
  items: Iterable<In>,
  make: (item: In, index: number) => Out,
): Steps<Out[]> {
  const made: Out[] = [];
  for (const item of items) {
    made.push(make(item, made.length));
    yield;
  }
  return made;
}

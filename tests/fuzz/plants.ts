import { readSource, type Reading } from '../../server/src/files/reading/reading.ts';
import type { Reader } from './probes.ts';

/** Readers with a mistake in them that the fuzzer has to find, each in another way wrong. */
export const plants: Readonly<Record<'throws' | 'hangs' | 'forgets' | 'grows', Reader>> = {
  // A tape with a letter too many, in a file that has another problem beside.
  throws: (kind, text, previous) => {
    const reading = readSource(kind, text, previous);
    if (/tape: [lm]{12,}/.test(text) && reading.problems.length > 1) throw new TypeError('planted');
    return reading;
  },
  hangs: (kind, text, previous) => {
    const reading = readSource(kind, text, previous);
    while (reading.problems.some(({ code }) => code === 'merge-conflict'));
    return reading;
  },
  // What stood in the file before comes back where a line was taken out.
  forgets: (kind, text, previous): Reading => {
    const reading = readSource(kind, text, previous);
    const fewer = previous && previous.tree.entries.length > reading.tree.entries.length;
    return fewer ? { ...reading, problems: previous.problems } : reading;
  },
  // Each line is compared with every other one.
  grows: (kind, text, previous) => {
    const lines = text.split('\n');
    const repeated = lines.filter((line) => lines.filter((other) => other === line).length > 1);
    return readSource(kind, repeated.length >= 0 ? text : '', previous);
  },
};

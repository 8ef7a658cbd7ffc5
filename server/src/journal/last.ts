import type { Line } from './lines.ts';
import type { Logged, Sealed } from './reduce.ts';

/** What was logged last and still counts. */
export interface Last {
  /** Id of the attempt or the entry. */
  readonly id: string;
  readonly technique: string | undefined;
  /** Undefined for an entry logged whole. */
  readonly landed: boolean | undefined;
}

/** An entry logged whole, and what was logged before it. */
interface Whole extends Last {
  readonly after: string;
}

/**
 * What `undo` takes back: the latest attempt or the latest entry logged whole, folded or not.
 *
 * @param technique only what was logged of this one
 */
export function lastOf(
  lines: readonly Line[],
  open: readonly Logged[],
  sealed: ReadonlyMap<string, Sealed>,
  undone: ReadonlySet<string>,
  technique?: string,
): Last | undefined {
  const live = [...sealed.values()].flatMap(({ seal, state }) =>
    state === 'dropped' || seal.gone || undone.has(seal.block) ? [] : [seal],
  );
  const asked = ({ technique: name }: Pick<Last, 'technique'>) =>
    technique === undefined || name === technique;
  const wholes = [
    ...live.flatMap(({ block, entry, after }) =>
      after === undefined ? [] : [wholeOf(block, entry.technique, after)],
    ),
    ...open.flatMap(({ id, after, gone, technique: name }) =>
      after === undefined || gone ? [] : [wholeOf(id, name, after)],
    ),
  ].filter(asked);
  const unfolded = new Set(open.flatMap(({ gone, attempts }) => (gone ? [] : attempts)));
  const line = lines.findLast((one) => one.kind === 'attempt' && unfolded.has(one.id) && asked(one));
  const counted = live.flatMap(({ entry, attempts }): Last[] => {
    const at = attempts.findLastIndex((id) => !undone.has(id));
    if (at < 0) return [];
    return [
      { id: attempts[at]!, technique: nameOf(entry.technique), landed: String(entry.tape)[at] === 'l' },
    ];
  });
  let last: Last | undefined =
    line?.kind === 'attempt'
      ? { id: line.id, technique: line.technique, landed: line.landed }
      : counted.filter(asked).at(-1);
  last ??= wholes[0];
  // From one to what was logged right after it, by no clock: that may have been set back.
  for (const left = new Set(wholes); last !== undefined;) {
    const { id } = last;
    const next = [...left].find(({ after }) => after === id);
    if (!next) break;
    left.delete(next);
    last = next;
  }
  return last;
}

function wholeOf(id: string, technique: unknown, after: string): Whole {
  return { id, technique: nameOf(technique), landed: undefined, after };
}

function nameOf(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

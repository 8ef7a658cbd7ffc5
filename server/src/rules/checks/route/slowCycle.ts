import type { Rule } from '../../engine/rule.ts';

/** Seconds after which what short-term memory holds of an attempt has faded: common practice among runners. */
const fadedAfter = 30;
/** Seconds of a quicker repeat that the finding names as an example. */
const worthAsking = 15;

/** A technique whose attempts lie too far apart to learn from one to the next. */
export const slowCycle: Rule = {
  code: 'slow-cycle',
  severity: 'warning',
  title: 'Thirty seconds or more from one attempt to the next.',
  page: {
    why: 'What one remembers of an attempt fades after about half a minute. Attempts further apart teach less each, and there are fewer of them.',
    way: 'Reload nearer to the hard part, or practise that part alone. `rank --cycle` says how far a quicker repeat would lift the technique in the ranking.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, practice: { attempt: 6, reload: 28 } }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, practice: { attempt: 6, reload: 2 } }
`,
    },
  },
  checkTechnique({ id, path, practice }, { uri }) {
    const cycle = practice.attempt + practice.reload;
    if (cycle < fadedAfter) return [];
    const longer = practice.reload > practice.attempt ? 'reload' : 'attempt';
    const way =
      longer === 'reload'
        ? 'A state saved just before it brings the next attempt sooner.'
        : 'Practise the hard part alone, from just before it.';
    const message = `An attempt of \`${id}\` begins only every ${Number(cycle.toFixed(1))} s. What one remembers of an attempt fades after about ${fadedAfter} s. ${way} \`rank --cycle ${id}=${worthAsking}\` says how far that would lift it in the ranking.`;
    return [{ uri, path: [...path, 'practice', longer], part: 'value', message }];
  },
};

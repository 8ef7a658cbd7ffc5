import { locate } from '../../../files/yaml/tree.ts';
import { groupByTechnique, recentSessions } from '../../lookup/recentPractice.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { formatRounded } from '../../lookup/words.ts';

/** Days back over which attempts are counted. */
const days = 28;
/** With fewer blocks than this, a slow cycle may only have been interrupted. */
const minBlocks = 3;
/** How many times the written cycle is reported: every block has a pause or two. */
const factor = 1.5;

/** Blocks whose attempts followed each other more slowly than the route says. */
export const cycleSlowerThanWritten: Rule = {
  code: 'cycle-slower-than-written',
  severity: 'warning',
  title: 'Attempts that follow each other more slowly than the route says.',
  needsWholeRoute: true,
  page: {
    why: 'The ranking counts on the attempts that fit into an hour. Where an attempt takes longer than written, the technique looks better than it is; where the time is spent waiting, it can be saved.',
    way: 'Look for idle time between attempts first. If there is none, write the real cycle under `practice`. The fix writes the cycle of the quickest block.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [60, 120] }]
  - start: 2026-10-06T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [70, 130] }]
  - start: 2026-10-07T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [80, 125] }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [120, 260] }]
  - start: 2026-10-06T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [150, 280] }]
  - start: 2026-10-07T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [170, 275] }]
`,
    },
  },
  check(context) {
    const { project } = context;
    return [...groupByTechnique(recentSessions(context, days))].flatMap(([id, all]): RuleReport[] => {
      const technique = project.techniques.get(id);
      const blocks = all.filter(({ attempts, minutes }) => (attempts ?? 0) > 0 && minutes > 0);
      const last = blocks.at(-1);
      if (!technique || !last?.isProjectFile || blocks.length < minBlocks) return [];
      const { attempt, reload } = technique.practice;
      const cycles = blocks.map(({ minutes, attempts }) => (60 * minutes) / attempts!);
      cycles.sort((a, b) => a - b);
      // The median block: one long pause says nothing about the cycle.
      const cycle = cycles[Math.floor(cycles.length / 2)]!;
      if (cycle <= factor * (attempt + reload)) return [];
      const own = technique.uri === project.route.uri;
      const place: SourceRef = own
        ? { uri: technique.uri, path: [...technique.path, 'practice'], part: 'key' }
        : { uri: last.uri, path: [...last.path, 'minutes'], part: 'value' };
      // Written from the quickest block, no block has more attempts than fit into it.
      const text = String(Math.floor(10 * Math.max(0, cycles[0]! - attempt)) / 10);
      const message = `In the last ${blocks.length} counted blocks there was an attempt of \`${id}\` about every ${formatRounded(cycle)} s, but the route gives a cycle of ${formatRounded(attempt + reload)} s. Shorten the wait between attempts, or write \`reload: ${text}\`, as in the quickest of these blocks.`;
      const reading = own ? project.route.reading : undefined;
      const written: SourceRef = {
        uri: technique.uri,
        path: [...technique.path, 'practice', 'reload'],
        part: 'value',
      };
      const fix = { ...written, title: `Change \`reload\` to ${text} s`, text, onRequest: true as const };
      return [{ ...place, message, ...(reading && locate(reading.tree, written.path).exact && { fix }) }];
    });
  },
};

import type { Block } from '../../../files/documents/documents.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A block from which the model learns nothing, or not what is written in it. */
export const blockNotCounted: Rule = {
  code: 'block-not-counted',
  severity: 'warning',
  title: 'A block that does not say what was practised.',
  page: {
    why: 'Practice counts for a technique. Minutes without one are lost to every estimate.',
    way: 'Name the technique. Where a segment was practised whole, name the segment, and under `tried` what was tried in it.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { minutes: 25, landed: [61, 104] }
      - { segment: harbor, minutes: 20 }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [61, 104] }
      - { segment: harbor, minutes: 20, tried: { crate-vault: [5, 8] } }
`,
    },
  },
  check({ project }) {
    const files = ownPractice(project);
    if (files.length === 0) return [];
    const segments = new Set(project.segments.map(({ id }) => id));
    return files.flatMap(({ uri, document }) =>
      document.sessions.flatMap(({ blocks }) =>
        blocks.flatMap((block): RuleReport[] => {
          // A segment that is not known may be a mistake for a technique: that is reported already.
          if (block.segment !== undefined && !segments.has(block.segment)) return [];
          const lost = uncountedAttempts(block);
          return lost ? [{ uri, path: [...block.path, lost.key], part: 'key', message: lost.message }] : [];
        }),
      ),
    );
  },
};

function uncountedAttempts({
  technique,
  segment,
  tried,
  landed,
  tape,
  seen,
  attempts,
}: Block): { key: string; message: string } | undefined {
  const whole = tried.length > 0;
  if (technique !== undefined) {
    const message = `What is under \`tried\` does not count here, since the block is on \`${technique}\`. Write its own count under \`landed\`, or name the \`segment\` in place of the technique.`;
    return whole ? { key: 'tried', message } : undefined;
  }
  if (whole) return undefined;
  if (segment !== undefined) {
    const message = `This practice of \`${segment}\` does not say what was tried in it, so that it counts for no technique. Add \`tried: { technique: [landed, tries] }\`.`;
    return { key: 'segment', message };
  }
  const counted = landed ?? tape ?? seen ?? attempts;
  const what = counted === undefined ? 'These minutes count' : 'These attempts count';
  return { key: 'minutes', message: `${what} for no technique. Add \`technique\` to this block.` };
}

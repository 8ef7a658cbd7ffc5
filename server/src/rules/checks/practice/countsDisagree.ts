import type { Block } from '../../../files/documents/documents.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A block that says in two ways how many attempts were made, and not the same. */
export const countsDisagree: Rule = {
  code: 'counts-disagree',
  severity: 'warning',
  title: 'Two counts of one block that do not agree.',
  page: {
    why: 'Where a block gives two different counts of its attempts, the landing rate depends on which one is read.',
    way: 'Correct one of the two, or remove the one you are less sure of.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, attempts: 90, landed: [61, 104] }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, attempts: 104, seen: [6, 10] }]
`,
    },
  },
  check({ project }) {
    return ownPractice(project).flatMap(({ uri, document }) =>
      document.sessions.flatMap(({ blocks }) =>
        blocks.flatMap((block): RuleReport[] => {
          const clash = disagreement(block);
          return clash
            ? [{ uri, path: [...block.path, clash.key], part: 'value', message: clash.message }]
            : [];
        }),
      ),
    );
  },
};

function disagreement({ landed, seen, attempts, tape }: Block): { key: string; message: string } | undefined {
  const way = 'Correct one of the two, or remove the one you are less sure of.';
  const all = landed?.tries ?? tape?.length ?? attempts;
  if (landed && tape !== undefined && landed.tries !== tape.length) {
    return {
      key: 'tape',
      message: `This tape has ${tape.length} attempts, \`landed\` says ${landed.tries}. ${way}`,
    };
  }
  if (landed && attempts !== undefined && landed.tries !== attempts) {
    return {
      key: 'attempts',
      message: `${attempts} attempts here, ${landed.tries} in \`landed\`. Counts of a part of the block go under \`seen\`. ${way}`,
    };
  }
  if (tape !== undefined && attempts !== undefined && tape.length !== attempts) {
    return { key: 'attempts', message: `${attempts} attempts here, ${tape.length} on the tape. ${way}` };
  }
  if (seen && all !== undefined && seen.tries > all) {
    return {
      key: 'seen',
      message: `A sample of ${seen.tries} is larger than the block's ${all} attempts. ${way}`,
    };
  }
  return undefined;
}

import { whoseLogsText } from '../../../queries/whoseLogs.ts';
import { runnerFilesOf } from '../../../workspace/runnerFiles.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Logs of several runners, and nobody said whose are meant. */
export const severalRunners: Rule = {
  code: 'several-runners',
  severity: 'error',
  title: 'Logs of several runners, none of them chosen.',
  page: {
    why: "Landing rates are one runner's own. With logs of several and none chosen nothing can be ranked.",
    way: 'Choose one (in VS Code by **Choose Whose Logs Count**, on the command line by `--runner NAME`), write `runner:` into your week file, or keep your own files beside the route and those of everybody else in folders such as `runners/NAME`.',
    failing: {
      'example.practice.yaml': `route: example.route.yaml
runner: Ada
sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
      'other.practice.yaml': `route: example.route.yaml
runner: Bo
sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    passing: {
      'example.practice.yaml': `route: example.route.yaml
runner: Ada
sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
      'other.practice.yaml': `route: example.route.yaml
runner: Ada
sessions:
  - start: 2026-10-06T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
  },
  check({ project, own }) {
    if (own.runner !== undefined) return [];
    // Where the files of several are asked about, it is known all the same whose count for the route.
    const chosen = runnerFilesOf({ ...project, askedRunners: undefined });
    if (!('runners' in chosen)) return [];
    const [first, ...others] = [...ownPractice(project), ...project.runs, ...project.weeks]
      .filter(({ document }) => document.runner !== undefined)
      .sort((a, b) => (a.uri < b.uri ? -1 : 1));
    if (!first) return [];
    const place = { path: ['runner'], part: 'value' } as const;
    const seen = new Set([first.document.runner]);
    const related = others.flatMap(({ uri, document }) => {
      if (seen.has(document.runner)) return [];
      seen.add(document.runner);
      return [{ uri, ...place, message: `This file is ${document.runner}'s.` }];
    });
    const message = `${whoseLogsText(chosen)} Choose whose logs count: landing rates are one runner's own.`;
    const found: RuleReport = { uri: first.uri, ...place, message, related };
    return [found];
  },
};

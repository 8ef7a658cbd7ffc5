import { routeUri } from '../../../workspace/groupFiles.ts';
import type { Stray } from '../../../workspace/project.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { fileName } from '../../../workspace/fileName.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** `extends` that leads nowhere or in a circle. Other files without a route are found by `strayReports`. */
export const unknownRoute: Rule = {
  code: 'unknown-route',
  severity: 'error',
  title: 'A route that is missing, out of reach, or extends itself.',
  page: {
    why: 'A log, week or pool whose route cannot be found counts for nothing: no technique in it is known.',
    way: "Correct the path under `route`. It starts at the file's own folder.",
    failing: {
      practice: `route: lanternfal.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
      'lanternfall.route.yaml': `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
    passing: {
      practice: `route: lanternfall.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
      'lanternfall.route.yaml': `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
  },
  check({ project: { route, bases } }) {
    const next = routeUri(route.uri, route.document.extends);
    if (next === undefined) return [];
    const place: SourceRef = { uri: route.uri, path: ['extends'], part: 'value' };
    if (next === route.uri) {
      return [{ ...place, message: 'This route extends itself. Remove `extends`, or name another route.' }];
    }
    if (bases.length === 0) {
      const message = `There is no route \`${route.document.extends}\` here: it does not exist, or lies outside the opened folder. Correct the path, which is relative to this file.`;
      return [{ ...place, message }];
    }
    const last = bases.at(-1)!;
    const closes = routeUri(last.uri, last.document.extends) === route.uri;
    // A loop is reported once, in the first of its files.
    if (!closes || bases.some(({ uri }) => uri < route.uri)) return [];
    const names = [route, ...bases, route].map(({ uri }) => fileName(uri));
    return [
      {
        ...place,
        message: `These routes extend each other in a circle: ${names.join(' → ')}. Remove one \`extends\`.`,
        related: bases.map(({ uri, document }) => ({
          uri,
          path: ['extends'],
          part: 'value' as const,
          message: `This extends \`${document.extends}\`.`,
        })),
      },
    ];
  },
};

/**
 * What to report about a log, week or pool that belongs to no project. Nothing for a file that names no route: reading it has
 * reported already that the key is missing, empty, or unreadable.
 */
export function strayReports({ file, why }: Stray): RuleReport[] {
  const written = file.kind === 'route' ? undefined : file.document.route;
  if (why === 'not-named' || written === undefined) return [];
  const message =
    why === 'missing'
      ? `There is no route \`${written}\` here. Correct the path, which is relative to this file, or create the route.`
      : `The route \`${written}\` lies outside the opened folder and is not read. Open a folder that holds both.`;
  return [{ uri: file.uri, path: ['route'], part: 'value', message }];
}

import { entryOf, locate } from '../../../files/yaml/tree.ts';
import { loggedEntries, sourceValueAt, type LoggedEntry } from '../../lookup/loggedEntries.ts';
import { ownPractice, runnerOf } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule, RuleContext } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { RemovalFixer } from '../../lookup/removalFixer.ts';

/** The same entry in the logs a second time. */
export const loggedTwice: Rule = {
  code: 'logged-twice',
  severity: 'warning',
  title: 'A session, block or run that is in the logs twice.',
  page: {
    why: 'Its attempts count twice, and the margins come out narrower than they are.',
    way: 'Remove one of the two. The fix does so where both are exactly the same.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [61, 104] }
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [61, 104] }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [61, 104] }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [61, 104] }
`,
    },
  },
  check(context) {
    const seen = new Map<string, LoggedEntry>();
    const doubled = new Set<LoggedEntry>();
    const found: RuleReport[] = [];
    const removers = new Map<string, RemovalFixer>();
    const removerOf = (uri: string) => {
      const file = [...context.project.practice, ...context.project.runs].find((one) => one.uri === uri);
      if (file && !removers.has(uri)) removers.set(uri, new RemovalFixer(file.reading));
      return removers.get(uri);
    };
    const say = (place: SourceRef, first: SourceRef, path: SourceRef['path'] | undefined) => {
      const fix = path ? removerOf(place.uri)?.removalFix(place, path, 'Take this entry out') : {};
      found.push({
        ...place,
        message:
          'This is in the logs already, and so would count twice. Remove one of the two, or correct its start if it is a different entry.',
        related: [{ ...first, message: 'The first one is here.' }],
        ...fix,
      });
    };
    for (const entry of loggedEntries(context)) {
      // Without a time of day two short runs of one evening may well be alike.
      if (entry.from === undefined && entry.kind !== 'evening') continue;
      if (entry.kind === 'session' && entry.minutes === 0) continue;
      const key = JSON.stringify([entry.runner, entry.kind, entry.from ?? entry.date]);
      const first = seen.get(key);
      if (!first) seen.set(key, entry);
      else if (
        sourceValueAt(context, entry.uri, entry.path) === sourceValueAt(context, first.uri, first.path)
      ) {
        doubled.add(entry);
        say(entry.place, first.place, entry.path);
      }
    }
    const known = [...doubled].map(({ uri, path }) => ({ uri, path }));
    const inside = ({ uri, path }: SourceRef) =>
      known.some((one) => one.uri === uri && one.path.every((step, at) => path[at] === step));
    const ids = new Map<string, SourceRef>();
    for (const [id, place] of entryIds(context)) {
      const first = ids.get(id);
      if (!first) ids.set(id, place);
      else if (!inside(place)) {
        const entry = place.path.slice(0, -1);
        const same =
          sourceValueAt(context, place.uri, entry) ===
          sourceValueAt(context, first.uri, first.path.slice(0, -1));
        say(place, first, same ? entry : undefined);
      }
    }
    return found;
  },
};

/** The ids of entries and blocks, each together with its runner. */
function* entryIds(context: RuleContext): Generator<[string, SourceRef]> {
  const { project } = context;
  const practice = ownPractice(project);
  // Ids are hardly ever written twice, and searching the texts for one costs far less than a look at every entry.
  if (!anyTwice([...practice, ...project.runs].map(({ reading }) => reading.text))) return;
  const files = [
    ...practice.map((file) => ({
      file,
      paths: file.document.sessions.flatMap(({ blocks }) => blocks.map(({ path }) => path)),
    })),
    ...project.runs.map((file) => ({ file, paths: file.document.runs.map(({ path }) => path) })),
  ];
  for (const { file, paths } of files) {
    for (const path of paths) {
      const id = entryOf(locate(file.reading.tree, path).tree, 'id')?.value;
      if (id?.type !== 'scalar' || id.value === null) continue;
      const place: SourceRef = { uri: file.uri, path: [...path, 'id'], part: 'value' };
      yield [JSON.stringify([runnerOf(context, file), id.value]), place];
    }
  }
}

/** Whether texts have the same word behind `id:` in two places. */
function anyTwice(texts: readonly string[]): boolean {
  const seen = new Set<string>();
  for (const text of texts) {
    for (const [, id] of text.matchAll(/\bid["']?[ \t]*:[ \t]*["']?([^\s,"'}]+)/g)) {
      if (seen.has(id!)) return true;
      seen.add(id!);
    }
  }
  return false;
}

import type { Path } from '../../../files/yaml/tree.ts';
import type { TechniqueAttempts } from '../../../files/documents/documents.ts';
import type { RouteFile } from '../../../workspace/project.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule, RuleContext } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { replacementFix, NameSuggester } from '../../lookup/nameSuggester.ts';
import type { NameSet } from '../../lookup/nameSet.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** An id that names a technique. */
interface Mention extends Omit<SourceRef, 'uri'> {
  readonly file: Pick<RouteFile, 'uri' | 'reading'>;
  readonly id: string;
  /** What follows the id at its place: `@second`. */
  readonly rest: string;
  /** Logs may go on using an id that was given up; a route may not. */
  readonly formerIsFine: boolean;
}

/** Techniques that are named somewhere and defined nowhere. */
export const unknownTechnique: Rule = {
  code: 'unknown-technique',
  severity: 'error',
  title: 'An id that no technique has.',
  page: {
    why: 'What is logged or written under an id that nothing defines is lost to every estimate.',
    way: 'Correct the id, or define the technique. After a rename, `was: [former-id]` on the technique keeps old logs valid.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-valt, minutes: 25 }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
  },
  check(context) {
    const { techniques, renamed, allRoutesFound, isComplete } = declaredNames(context);
    if (!allRoutesFound) return [];
    const suggester = new NameSuggester(techniques);
    return [...mentions(context, techniques)].flatMap((mention): RuleReport[] => {
      const { id, rest, formerIsFine, file, path, part } = mention;
      const today = renamed.get(id);
      if (today !== undefined && formerIsFine) return [];
      const place = { uri: file.uri, path, part };
      const { tree } = file.reading;
      if (today !== undefined) {
        const message = `\`${id}\` is called \`${today}\` now. Write that here; logs may keep the former id.`;
        return [{ ...place, message, ...replacementFix(place, today + rest, tree) }];
      }
      const meant = suggester.suggest(id);
      // It may be defined in text that could not be read. An id that looks like a misspelled one is reported all the
      // same.
      if (!isComplete && meant === undefined) return [];
      const message =
        meant === undefined
          ? `No technique has the id \`${id}\`. Define it under \`techniques\` in the route, or correct the id.`
          : `No technique has the id \`${id}\`. Did you mean \`${meant}\`?`;
      return [{ ...place, message, ...(meant !== undefined && replacementFix(place, meant + rest, tree)) }];
    });
  },
};

/** The ids that name a technique which is not among the `known`. */
function* mentions(context: RuleContext, known: NameSet): Generator<Mention> {
  const { project } = context;
  if (mentionsOthers(context)) yield* inRoute(project.route, known);
  for (const file of ownPractice(project)) {
    for (const block of file.document.sessions.flatMap(({ blocks }) => blocks)) {
      if (block.technique !== undefined && !known.has(block.technique))
        yield inLog(file, [...block.path, 'technique'], block.technique);
      yield* triedIn(file, block.tried, known);
    }
  }
  for (const file of project.runs) {
    for (const run of file.document.runs) {
      yield* triedIn(file, run.tried, known);
      yield* triedIn(file, run.first, known);
      for (const { by, path } of run.endings)
        if (by !== undefined && !known.has(by)) yield inLog(file, [...path, 'by'], by);
    }
  }
  for (const file of project.weeks) {
    const { pin, leaveOut, states } = file.document;
    for (const { id, path } of [...pin, ...leaveOut]) if (!known.has(id)) yield inLog(file, path, id);
    for (const { id, path } of states) if (!known.has(id)) yield { ...inLog(file, path, id), part: 'key' };
  }
}

/** Whether the routes name techniques that are not among the known, also in unfinished entries. Mostly they do not. */
function mentionsOthers(context: RuleContext): boolean {
  const { techniques, used, needed } = declaredNames(context);
  const { confirmed } = techniques;
  const from = [confirmed, used, needed].flatMap(({ revision }) => revision);
  // They are few, so that looking for each where something could not be read costs little.
  const others = routeIndexOf(context).entries.getOrCompute('others are mentioned', from, () =>
    [...used, ...needed].filter((id) => !confirmed.has(id)),
  );
  return others.some((id) => !techniques.has(id));
}

function* inRoute(file: RouteFile, known: NameSet): Generator<Mention> {
  const mention = (path: Path, id: string): Mention => ({ ...inLog(file, path, id), formerIsFine: false });
  for (const { uses } of file.document.segments) {
    for (const { technique, backup, short, path } of uses) {
      if (!known.has(technique)) yield mention(short ? path : [...path, 'use'], technique);
      if (backup !== undefined && !known.has(backup)) yield mention([...path, 'backup'], backup);
    }
  }
  for (const { needs } of file.document.techniques)
    for (const { id, path } of needs) if (!known.has(id)) yield mention(path, id);
}

function inLog(file: Mention['file'], path: Path, id: string): Mention {
  return { file, path, part: 'value', id, rest: '', formerIsFine: true };
}

function* triedIn(
  file: Mention['file'],
  tried: readonly TechniqueAttempts[],
  known: NameSet,
): Generator<Mention> {
  for (const { technique, use, path } of tried) {
    if (known.has(technique)) continue;
    const rest = use === undefined ? '' : `@${use}`;
    yield { file, path, part: 'key', id: technique, rest, formerIsFine: true };
  }
}

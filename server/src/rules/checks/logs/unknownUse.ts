import { useName } from '../../../files/schema/ids.ts';
import type { TechniqueAttempts } from '../../../files/documents/documents.ts';
import type { Tree } from '../../../files/yaml/tree.ts';
import type { Project } from '../../../workspace/project.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { replacementFix, NameSuggester } from '../../lookup/nameSuggester.ts';
import type { NameSet } from '../../lookup/nameSet.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** `technique@use` in a log where the technique has no use of that id. */
export const unknownUse: Rule = {
  code: 'unknown-use',
  severity: 'error',
  title: 'A use of a technique that the route does not have.',
  page: {
    why: "Tries of a use that the route does not have cannot be separated from those of the technique's other uses.",
    way: 'Correct the part behind the `@`, or give the use that `id` in the route.',
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:35, tried: { crate-vault@second: [1, 1] } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:35, tried: { crate-vault: [1, 1] } }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { techniques, renamed, uses, isComplete } = declaredNames(context);
    if (!isComplete) return [];
    let suggesters: ReadonlyMap<string, NameSuggester> | undefined;
    const found: RuleReport[] = [];
    for (const { uri, tree, tried } of triedIn(project)) {
      const { technique, use, path } = tried;
      if (use === undefined) continue;
      const id = techniques.has(technique) ? technique : renamed.get(technique);
      // An unknown technique is another rule's to report.
      if (id === undefined || uses.has(useName(id, use))) continue;
      const near = (suggesters ??= usesByTechnique(uses)).get(id)?.suggest(use);
      const meant = near === undefined ? undefined : useName(technique, near);
      const place = { uri, path, part: 'key' } as const;
      const way =
        meant === undefined
          ? `Give the use \`id: ${use}\` in its segment, or write \`${technique}\` alone.`
          : `Did you mean \`${meant}\`?`;
      found.push({
        ...place,
        message: `No use of \`${id}\` in the route has the id \`${use}\`. ${way}`,
        ...(meant !== undefined && replacementFix(place, meant, tree)),
      });
    }
    return found;
  },
};

function usesByTechnique(uses: NameSet): Map<string, NameSuggester> {
  const ids = new Map<string, string[]>();
  for (const name of uses) {
    const [technique = '', use = ''] = name.split('@');
    const known = ids.get(technique);
    if (known) known.push(use);
    else ids.set(technique, [use]);
  }
  return new Map([...ids].map(([technique, known]) => [technique, new NameSuggester(new Set(known))]));
}

interface Mention {
  readonly uri: string;
  readonly tree: Tree;
  readonly tried: TechniqueAttempts;
}

function* triedIn(project: Project): Generator<Mention> {
  for (const { uri, document, reading } of ownPractice(project)) {
    for (const { blocks } of document.sessions)
      for (const tried of blocks.flatMap((block) => block.tried)) yield { uri, tree: reading.tree, tried };
  }
  for (const { uri, document, reading } of project.runs) {
    for (const run of document.runs)
      for (const tried of [...run.tried, ...run.first]) yield { uri, tree: reading.tree, tried };
  }
}

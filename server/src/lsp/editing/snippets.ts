import { CompletionItemKind, InsertTextFormat, MarkupKind, type CompletionItem } from 'vscode-languageserver';
import { formatDate } from '../../text/calendar.ts';
import { stemOf, type FileKind } from '../../files/fileKind.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import type { InsertionPoint } from './cursorContext.ts';
import { nameCandidates } from './nameCandidates.ts';
import { fileName } from '../documents/uris.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { Workspace } from '../../workspace/workspace.ts';

export interface SnippetNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
  readonly client: Pick<ClientFeatures, 'snippets'>;
}

/**
 * An entry to fill in: `${1:word}` is the first place that the cursor goes to, with the word that is shown there until
 * then.
 */
interface Snippet {
  /** The paths at which it can be written; `#` stands for an index in a list. */
  readonly at: RegExp;
  readonly part: InsertionPoint['part'];
  readonly label: string;
  readonly detail: string;
  /** Offered only where nothing else is written yet, as in an empty file. */
  readonly alone?: boolean;
  /** `DATE` becomes the runner's today, `ROUTE` the nearest route file. */
  readonly lines: readonly string[];
}

const snippets: Readonly<Record<FileKind, readonly Snippet[]>> = {
  route: [
    {
      at: /^$/,
      part: 'key',
      label: 'new route',
      detail: 'A route with its first segment',
      alone: true,
      lines: [
        'game: ${1:Game}',
        'category: ${2:any%}',
        'segments:',
        '  - id: ${3:id}',
        '    name: ${4:Name}',
        '    time: ${5:1:00}',
        '    techniques: []',
        'techniques: {}',
      ],
    },
    {
      at: /^segments\/#\/techniques\/#$/,
      part: 'value',
      label: 'new use',
      detail: 'A technique with numbers of its own here',
      lines: ['{ use: ${1:id}, saves: ${2:1}, loses: ${3:1} }'],
    },
    {
      at: /^techniques$/,
      part: 'key',
      label: 'new technique',
      detail: 'A technique to fill in',
      lines: ['${1:id}:', '  name: ${2:Name}', '  difficulty: ${3:5}', '  saves: ${4:1}', '  loses: ${5:1}'],
    },
    {
      at: /^segments\/#$/,
      part: 'value',
      label: 'new segment',
      detail: 'A segment to fill in',
      lines: ['id: ${1:id}', '  name: ${2:Name}', '  time: ${3:1:00}', '  techniques: [$4]'],
    },
  ],
  practice: [
    {
      at: /^$/,
      part: 'key',
      label: 'new practice log',
      detail: 'A log with its first session',
      alone: true,
      lines: [
        'route: ${1:ROUTE}',
        'sessions:',
        '  - start: ${2:DATE}',
        '    blocks:',
        '      - { technique: ${3:id}, minutes: ${4:25}, landed: [${5:0}, ${6:0}] }',
      ],
    },
    {
      at: /^sessions\/#$/,
      part: 'value',
      label: 'new session',
      detail: 'A session with its first block',
      lines: [
        'start: ${1:DATE}',
        '  blocks:',
        '    - { technique: ${2:id}, minutes: ${3:25}, landed: [${4:0}, ${5:0}] }',
      ],
    },
    {
      at: /^sessions\/#\/blocks\/#$/,
      part: 'value',
      label: 'new block',
      detail: 'A block to fill in',
      lines: ['{ technique: ${1:id}, minutes: ${2:25}, landed: [${3:0}, ${4:0}] }'],
    },
  ],
  runs: [
    {
      at: /^$/,
      part: 'key',
      label: 'new run log',
      detail: 'A log with its first run',
      alone: true,
      lines: [
        'route: ${1:ROUTE}',
        'runs:',
        '  - start: ${2:DATE}',
        '    total: ${3:40:00}',
        '    tried: { ${4:id}: [${5:0}, ${6:1}] }',
      ],
    },
    {
      at: /^runs\/#$/,
      part: 'value',
      label: 'new run',
      detail: 'A run that was finished',
      lines: ['start: ${1:DATE}', '  total: ${2:40:00}', '  tried: { ${3:id}: [${4:0}, ${5:1}] }'],
    },
    {
      at: /^runs\/#$/,
      part: 'value',
      label: 'new evening',
      detail: 'An evening of runs in one entry',
      lines: [
        'date: ${1:DATE}',
        '  minutes: ${2:60}',
        '  runs: ${3:1}',
        '  finished: ${4:0}',
        '  tried: { ${5:id}: [${6:0}, ${7:1}] }',
      ],
    },
  ],
  week: [
    {
      at: /^$/,
      part: 'key',
      label: 'new week',
      detail: 'A week with its first evening',
      alone: true,
      lines: ['route: ${1:ROUTE}', 'days: { ${2:mon}: ${3:50} }', 'block: ${4:25}'],
    },
  ],
  // Nobody writes a pool by hand.
  pool: [],
};

/** Whole entries to fill in, at places where an entry can begin; none for an editor without placeholders. */
export function snippetsAt(
  needs: SnippetNeeds,
  file: ProjectFile,
  insertionPoint: InsertionPoint,
): SnippetItem[] {
  if (!needs.client.snippets || insertionPoint.inFlow) return [];
  const shape = insertionPoint.path.map((step) => (typeof step === 'number' ? '#' : step)).join('/');
  return snippets[file.kind]
    .filter(({ at, part, alone = false }) => {
      return (
        part === insertionPoint.part && at.test(shape) && (!alone || insertionPoint.existingNames.size === 0)
      );
    })
    .map((snippet) => itemOf(needs, file, snippet));
}

/** A completion that writes a whole entry. */
export type SnippetItem = CompletionItem & { readonly newText: string };

/**
 * The entry of this name, wherever the cursor is. Its lines after the first are indented as below a dash.
 *
 * @throws where no entry of the file's kind has that name
 */
export function snippetItem(needs: SnippetNeeds, file: ProjectFile, label: string): SnippetItem {
  const snippet = snippets[file.kind].find((one) => one.label === label);
  if (!snippet) throw new Error(`There is no entry ${label}.`);
  return itemOf(needs, file, snippet);
}

function itemOf(needs: SnippetNeeds, file: ProjectFile, { label, detail, lines }: Snippet): SnippetItem {
  const text = lines.join('\n').replace('DATE', dateOf(needs, file)).replace('ROUTE', routeOf(needs, file));
  return {
    label,
    detail,
    kind: CompletionItemKind.Snippet,
    insertTextFormat: InsertTextFormat.Snippet,
    documentation: {
      kind: MarkupKind.Markdown,
      value: `\`\`\`yaml\n${withoutPlaceholders(text)}\n\`\`\``,
    },
    newText: text,
  };
}

/** The route that the file probably belongs to: the one with the same name, otherwise the nearest. */
function routeOf(needs: SnippetNeeds, file: ProjectFile): string {
  const names = nameCandidates(needs.workspace, file, 'route', 'value').map(({ id }) => id);
  const own = `${fileName(stemOf(file.uri))}.route.`;
  return names.find((name) => name.startsWith(own)) ?? names[0] ?? 'my.route.yaml';
}

/** The day that answers are for, or a fixed date as an example of the form. */
function dateOf(needs: SnippetNeeds, file: ProjectFile): string {
  const project = needs.workspace.projectOf(file.uri);
  const own = project && runnerFilesOf(project);
  const day = own && !('runners' in own) ? needs.estimates.day(own) : undefined;
  return day === undefined ? '2026-01-31' : formatDate(day);
}

/** The text of a snippet with each placeholder replaced by its word. */
export function withoutPlaceholders(text: string): string {
  return text.replace(/\$\{\d+:([^}]*)\}|\$\d+/g, '$1');
}

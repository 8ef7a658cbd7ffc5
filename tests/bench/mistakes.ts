import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Diagnostic } from 'vscode-languageserver-protocol/node';
import { mistakeKinds, withTypingMistake, type TypingMistake } from '../helpers/mistakes.ts';
import { Client, type ServerCommand } from './client.ts';
import { folderWith, removeFolder } from './folder.ts';
import { waitUntilIdle } from './memory.ts';
import { median } from './samples.ts';
import { general, generalAtOnce, own, root } from './servers.ts';

/** The findings that one mistake caused. */
interface Echo {
  readonly count: number;
  /** Lines between the mistake and the finding farthest from it in its file. */
  readonly away: number;
  /** How many of the findings are in other files. */
  readonly elsewhere: number;
}

/** The kinds of mistake that the table shows. */
const shown: readonly string[] = [
  'a tab for the indentation',
  'one space too little',
  'one space too many',
  'two spaces too many',
  'no space after a colon',
  'no space after a dash',
  'a missing colon',
  'a missing dash',
  'a missing dash, the rest left in line',
  'a missing comma',
  'a quote never closed',
  'a quote too many behind a value',
  'an opening bracket too many',
  'a closing bracket missing',
  'a colon in a plain text',
  'a stray character before a line',
  'a line typed to its half',
];

/**
 * Makes mistakes in the sample's route, with its logs and week file in the same folder, in both servers; returns a
 * Markdown table of the findings of each.
 *
 * @param places how many mistakes of each kind, spread over the route
 */
export async function mistakesTable(places: number, progress: (what: string) => void): Promise<string> {
  const sample = (kind: string) => readFileSync(join(root, `samples/lanternfall.${kind}.yaml`), 'utf8');
  const text = sample('route');
  const otherFiles = ['practice', 'runs', 'week'].map((kind) => [`lanternfall.${kind}.yaml`, sample(kind)]);
  const { folder, folderUri, uri } = folderWith(
    text,
    Object.fromEntries(otherFiles) as Record<string, string>,
  );
  const rows: string[] = [];
  const open = (server: ServerCommand) => Listener.open(server, { folderUri, uri, text });
  const servers = await Promise.all([open(own), open(generalAtOnce)]);
  try {
    for (const { name, mistakesIn } of mistakeKinds.filter((mistake) => shown.includes(mistake.name))) {
      progress(name);
      const chosen = spread(mistakesIn(text), places);
      const echoes = await Promise.all(servers.map((server) => server.echoesOf(chosen)));
      rows.push(`| ${[name, chosen.length, ...echoes.flatMap(cells)].join(' | ')} |`);
    }
  } finally {
    await Promise.all(servers.map((server) => server.stop()));
    removeFolder(folder);
  }
  const columns = ['findings', 'farthest line'];
  const head = [
    'One mistake',
    'places',
    ...[own.name, general.name].flatMap((server) => columns.map((column) => `${server}: ${column}`)),
  ];
  return [`| ${head.join(' | ')} |`, `|${' --- |'.repeat(head.length)}`, ...rows].join('\n');
}

/** `count` entries of a list, evenly spread over it. */
function spread<T>(list: readonly T[], count: number): T[] {
  if (list.length <= count) return [...list];
  return Array.from({ length: count }, (_, i) => list[Math.floor(((i + 0.5) * list.length) / count)]!);
}

/** Median and highest number of findings, how far away the farthest is, and how many are in other files. */
function cells(echoes: readonly Echo[]): string[] {
  const counts = echoes.map(({ count }) => count);
  const elsewhere = Math.max(...echoes.map((echo) => echo.elsewhere));
  const away = String(Math.max(...echoes.map((echo) => echo.away)));
  return [
    `${median(counts)}, at most ${Math.max(...counts)}`,
    elsewhere === 0 ? away : `${away}, and ${elsewhere} in other files`,
  ];
}

interface Opened {
  readonly folderUri: string;
  readonly uri: string;
  readonly text: string;
}

/** A server with the open route, and its current findings for every file. */
class Listener {
  private readonly said = new Map<string, readonly Diagnostic[]>();
  private readonly client: Client;
  private readonly opened: Opened;

  private constructor(client: Client, opened: Opened) {
    this.client = client;
    this.opened = opened;
    client.onDiagnostics = ({ uri, diagnostics }) => this.said.set(uri, diagnostics);
  }

  static async open(server: ServerCommand, opened: Opened): Promise<Listener> {
    const client = await Client.start(server, opened.folderUri);
    const listener = new Listener(client, opened);
    await client.open(opened.uri, opened.text, () => true);
    await waitUntilIdle(client.pid);
    return listener;
  }

  stop(): Promise<void> {
    return this.client.stop();
  }

  /** Makes each typing mistake and reverses it, and waits each time until the server is idle. */
  async echoesOf(mistakes: readonly TypingMistake[]): Promise<Echo[]> {
    const echoes: Echo[] = [];
    for (const mistake of mistakes) {
      const before = new Set(this.findings().map(({ key }) => key));
      await this.replace(this.opened.text, mistake);
      const line = lineOf(this.opened.text, mistake.at);
      const found = this.findings().filter(({ key }) => !before.has(key));
      const here = found.filter(({ uri }) => uri === this.opened.uri);
      echoes.push({
        count: found.length,
        away: Math.max(0, ...here.map((finding) => Math.abs(finding.line - line))),
        elsewhere: found.length - here.length,
      });
      const { at, text, length } = mistake;
      const back = this.opened.text.slice(at, at + length);
      await this.replace(withTypingMistake(this.opened.text, mistake), {
        at,
        length: text.length,
        text: back,
      });
    }
    return echoes;
  }

  private async replace(text: string, { at, length, text: put }: TypingMistake): Promise<void> {
    const range = { start: placeOf(text, at), end: placeOf(text, at + length) };
    await this.client.send(this.opened.uri, { range, text: put });
    await waitUntilIdle(this.client.pid);
  }

  private findings(): { uri: string; line: number; key: string }[] {
    return [...this.said].flatMap(([uri, diagnostics]) =>
      diagnostics.map(({ range, message }) => {
        const { line } = range.start;
        return { uri, line, key: `${uri} ${line} ${JSON.stringify(message)}` };
      }),
    );
  }
}

function lineOf(text: string, offset: number): number {
  return text.slice(0, offset).split('\n').length - 1;
}

function placeOf(text: string, offset: number): { line: number; character: number } {
  return { line: lineOf(text, offset), character: offset - (text.lastIndexOf('\n', offset - 1) + 1) };
}

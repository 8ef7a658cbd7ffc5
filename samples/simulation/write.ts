import type { Entry, Evening, SingleRun } from './evening.ts';
import type { Block, Count, Session } from './practice.ts';

const width = 108;

/** The practice log's text. @param header its first lines */
export function writePractice(header: readonly string[], sessions: readonly Session[]): string {
  const lines = [...header, 'sessions:'];
  for (const session of sessions) {
    lines.push(`  - start: ${session.start}`, '    blocks:');
    for (const block of session.blocks) lines.push(`      - ${flow(blockParts(block))}`);
  }
  return `${lines.join('\n')}\n`;
}

function blockParts(block: Block): string[] {
  const parts: string[] = [];
  if (block.technique !== undefined) parts.push(`technique: ${block.technique}`);
  if (block.segment !== undefined) parts.push(`segment: ${block.segment}`);
  parts.push(`minutes: ${block.minutes}`);
  if (block.attempts !== undefined) parts.push(`attempts: ${block.attempts}`);
  if (block.seen !== undefined) parts.push(`seen: ${pair(block.seen)}`);
  if (block.landed !== undefined) parts.push(`landed: ${pair(block.landed)}`);
  if (block.tape !== undefined) parts.push(`tape: ${block.tape}`);
  if (block.tried !== undefined) parts.push(`tried: ${flow(counts(block.tried))}`);
  if (block.on !== undefined) parts.push(`on: ${block.on}`);
  return parts;
}

/** The run log's text. @param header its first lines */
export function writeRuns(header: readonly string[], entries: readonly Entry[]): string {
  const lines = [...header, 'runs:'];
  for (const entry of entries)
    lines.push(...(entry.kind === 'single' ? singleLines(entry) : eveningLines(entry)));
  return `${lines.join('\n')}\n`;
}

function singleLines({ start, run, totalOnly }: SingleRun): string[] {
  const lines = [`  - start: ${start}`];
  if (totalOnly) {
    lines.push(`    total: ${clock(run.times.reduce((sum, [, time]) => sum + Math.round(time * 10), 0))}`);
  } else if (run.times.length > 0) {
    const parts = run.times.map(([segment, time]) => `${segment}: ${clock(Math.round(time * 10))}`);
    lines.push(...wrapped('times', parts));
  }
  lines.push(...wrapped('tried', counts(run.tried)), ...wrapped('first', counts(run.first)));
  if (run.ended !== undefined) {
    const { at, why, by } = run.ended;
    lines.push(
      `    ended: ${flow([`at: ${at}`, `why: ${why}`, ...(by === undefined ? [] : [`by: ${by}`])])}`,
    );
  }
  return lines;
}

function eveningLines(evening: Evening): string[] {
  const ended = Object.entries(evening.ended).map(([segment, endings]) => {
    const parts = ['reset', 'death'].flatMap((why) =>
      endings[why] === undefined ? [] : [`${why}: ${endings[why]}`],
    );
    return `${segment}: ${flow(parts)}`;
  });
  return [
    `  - date: ${evening.date}`,
    `    minutes: ${evening.minutes}`,
    `    runs: ${evening.runs}`,
    `    finished: ${evening.finished}`,
    ...wrapped('ended', ended),
    ...wrapped('tried', counts(evening.tried)),
    ...wrapped('first', counts(evening.first)),
  ];
}

function counts(tried: Readonly<Record<string, Count>>): string[] {
  return Object.entries(tried).map(([name, count]) => `${name}: ${pair(count)}`);
}

function pair([landed, tries]: Count): string {
  return `[${landed}, ${tries}]`;
}

function flow(parts: readonly string[]): string {
  return `{ ${parts.join(', ')} }`;
}

/** `key: { ... }` under an entry; several lines where one would be too long, none where there is nothing. */
function wrapped(key: string, parts: readonly string[]): string[] {
  if (parts.length === 0) return [];
  const single = `    ${key}: ${flow(parts)}`;
  if (single.length <= width) return [single];
  const lines = [`    ${key}:`];
  let line = '      {';
  for (const [index, part] of parts.entries()) {
    const text = index < parts.length - 1 ? `${part},` : `${part} }`;
    if (line.length + 1 + text.length > width) {
      lines.push(line);
      line = '       ';
    }
    line += ` ${text}`;
  }
  return [...lines, line];
}

/** `m:ss.s` from tenths of a second; whole numbers, so that no rounding can creep in. */
function clock(tenths: number): string {
  const minutes = Math.floor(tenths / 600);
  const rest = tenths % 600;
  return `${minutes}:${String(Math.floor(rest / 10)).padStart(2, '0')}.${rest % 10}`;
}

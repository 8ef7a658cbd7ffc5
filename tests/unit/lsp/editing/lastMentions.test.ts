import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { LastMentions } from '../../../../server/src/lsp/editing/lastMentions.ts';
import { identifiers } from '../../../../server/src/lsp/editing/identifiers.ts';
import { fileKindOf } from '../../../../server/src/files/fileKind.ts';
import { memoryFileSource } from '../../../../server/src/workspace/fileSource.ts';
import type { ProjectFile } from '../../../../server/src/workspace/project.ts';
import { Workspace } from '../../../../server/src/workspace/workspace.ts';

const samples = join(import.meta.dirname, '../../../../samples');

/** The place furthest down, found by reading the file from its beginning. */
function furthestDown(file: ProjectFile, id: string) {
  return [...identifiers(file)].findLast((one) => one.entityKind === 'technique' && one.id === id)?.span;
}

function expectAlike(file: ProjectFile, mentions: LastMentions): number {
  const ids = new Set(
    [...identifiers(file)].flatMap((one) => (one.entityKind === 'technique' ? [one.id] : [])),
  );
  for (const id of ids)
    expect(
      mentions.find(file, (one) => one === id),
      id,
    ).toEqual(furthestDown(file, id));
  expect(mentions.find(file, (one) => one === 'no-such')).toBeUndefined();
  return ids.size;
}

describe('where a technique was logged last', () => {
  it('is the place furthest down in any file, before and after edits', () => {
    const workspace = new Workspace(memoryFileSource({}));
    const mentions = new LastMentions();
    let seen = 0;
    for (const name of readdirSync(samples, { recursive: true, encoding: 'utf8' }).filter((one) =>
      fileKindOf(one),
    )) {
      const uri = `file:///s/${name}`;
      const text = readFileSync(join(samples, name), 'utf8');
      workspace.edit(uri, text);
      seen += expectAlike(workspace.file(uri)!, mentions);
      // An entry more above the others moves them; one less at the end takes last places away.
      const entry = /\n( +)- [^\n]*\n/.exec(text);
      if (entry) {
        workspace.edit(uri, text.slice(0, entry.index) + entry[0].trimEnd() + text.slice(entry.index));
        expectAlike(workspace.file(uri)!, mentions);
      }
      workspace.edit(uri, text.slice(0, text.trimEnd().lastIndexOf('\n  - ') + 1));
      expectAlike(workspace.file(uri)!, mentions);
      workspace.edit(uri, text);
      expectAlike(workspace.file(uri)!, mentions);
    }
    expect(seen).toBeGreaterThan(20);
  });

  it('is found among several names, and where a log is not the list that it should be', () => {
    const workspace = new Workspace(memoryFileSource({}));
    const uri = 'file:///s/a.practice.yaml';
    workspace.edit(
      uri,
      'route: a.route.yaml\nsessions:\n  - blocks: [{ technique: a }, { technique: b }, { technique: a@c }]\n',
    );
    const file = workspace.file(uri)!;
    const mentions = new LastMentions();
    const textAt = (span: { start: number; end: number } | undefined) =>
      span && file.reading.text.slice(span.start, span.end);
    expect(textAt(mentions.find(file, () => true))).toBe('a@c');
    expect(textAt(mentions.find(file, (id) => id === 'b'))).toBe('b');
    workspace.edit(uri, 'sessions: 3\nroute: a\n');
    expect(mentions.find(workspace.file(uri)!, () => true)).toBeUndefined();
  });
});

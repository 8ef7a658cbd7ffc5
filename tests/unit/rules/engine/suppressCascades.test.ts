import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkSelection } from '../../../../server/src/cli/checking/findings.ts';
import { memoryFileSource } from '../../../../server/src/workspace/fileSource.ts';
import { Workspace } from '../../../../server/src/workspace/workspace.ts';
import { mistakeKinds, withTypingMistake } from '../../../helpers/mistakes.ts';
import { lastDay } from '../../../helpers/lastDay.ts';

const samples = join(import.meta.dirname, '../../../../samples');
const files = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [`file:///s/${name}`, readFileSync(join(samples, name), 'utf8')];
  }),
);
const workspace = new Workspace(memoryFileSource(files), ['file:///s']);
await workspace.load();

/** What is found in all files, and whether in reading them. */
function found(): { uri: string; line: number; reading: boolean; key: string }[] {
  const { projects, strays } = workspace.groups();
  const look = { day: lastDay, runner: undefined, forecast: false };
  const { findings } = checkSelection(workspace, { files: workspace.all(), projects, strays }, look);
  return findings.map(({ uri, start, code, message }) => {
    const { text, problems } = workspace.file(uri)!.reading;
    const line = text.slice(0, start).split('\n').length - 1;
    const reading = problems.some((problem) => problem.code === code && problem.start === start);
    return { uri, line, reading, key: `${uri} ${line} ${code} ${message}` };
  });
}

// The samples' own findings are none of the mistake's.
const before = new Set(found().map(({ key }) => key));

/** Some of a kind's places, other ones for each kind. */
const strideIn = (uri: string) => (/route|week/.test(uri) ? 6 : 24);

describe('what cannot be read brings no finding anywhere but where it is:', () => {
  it.each(mistakeKinds.map((mistake, index) => [mistake.name, mistake, index] as const))(
    '%s',
    (_, mistake, index) => {
      const wrong: string[] = [];
      let seen = 0;
      for (const [uri, text] of Object.entries(files)) {
        const stride = strideIn(uri);
        for (const slip of mistake.mistakesIn(text).filter((_, place) => place % stride === index % stride)) {
          workspace.edit(uri, withTypingMistake(text, slip));
          const echoes = found().filter(({ key }) => !before.has(key));
          // Where all of it reads, another word stands there, and what is said of that is no echo.
          if (!echoes.some(({ reading }) => reading)) continue;
          seen++;
          const line = text.slice(0, slip.at).split('\n').length - 1;
          const away = echoes.filter(
            (one) => !one.reading && (one.uri !== uri || Math.abs(one.line - line) > 2),
          );
          wrong.push(...away.map(({ key }) => `${line}: ${key}`));
        }
        workspace.edit(uri, text);
      }
      expect(seen).toBeGreaterThan(3);
      expect(wrong).toEqual([]);
    },
  );
});

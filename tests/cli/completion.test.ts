import { execFileSync } from 'node:child_process';
import { chmodSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { env, execPath } from 'node:process';
import { beforeAll, describe, expect, test } from 'vitest';
import { commands } from '../../server/src/cli/commandList.ts';
import { programOf } from '../helpers/commandLine.ts';
import { folderOf, practice, route, routewright } from './place.ts';

const names = commands.map(({ name }) => name);

/** A folder with a route, and one with the program `routewright` and the scripts for its shells. */
let folder: string;
let programs: string;
let path: string;

beforeAll(async () => {
  folder = folderOf({
    'lanternfall.route.yaml': route,
    'lanternfall.practice.yaml': practice,
    'runs.csv': '',
  });
  programs = folderOf({});
  const entry = await programOf('server/src/cli.ts', programs);
  const program = join(programs, 'routewright');
  writeFileSync(program, `#!/bin/sh\nexec '${execPath}' '${entry}' "$@"\n`);
  chmodSync(program, 0o755);
  for (const [shell, file] of [
    ['bash', 'routewright.bash'],
    ['zsh', '_routewright'],
    ['fish', 'routewright.fish'],
    ['powershell', 'routewright.ps1'],
  ] as const) {
    const { code, out, err } = await routewright(folder, ['completion', shell]);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    writeFileSync(join(programs, file), out);
  }
  path = `${programs}${delimiter}${env.PATH}`;
});

/** Runs a shell in the folder of the route, and gives what it prints, by lines without their ends, sorted. */
function linesOf(shell: string, args: readonly string[]): string[] {
  const out = execFileSync(shell, args, {
    cwd: folder,
    encoding: 'utf8',
    env: { PATH: path, HOME: folder, TERM: 'dumb', ROUTEWRIGHT_STATE_HOME: programs },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return out
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .sort();
}

function quoted(text: string): string {
  return `'${text.replace(/'/g, `'\\''`)}'`;
}

/** What bash would offer for a line whose words are these, the last of them unfinished. */
function inBash(words: readonly string[]): string[] {
  const script = `
    source ${quoted(join(programs, 'routewright.bash'))}
    COMP_WORDS=(${words.map(quoted).join(' ')})
    COMP_CWORD=$((\${#COMP_WORDS[@]} - 1))
    _routewright routewright
    if [[ \${#COMPREPLY[@]} -gt 0 ]]; then printf '%s\\n' "\${COMPREPLY[@]}"; fi`;
  return linesOf('bash', ['--norc', '--noprofile', '-c', script]);
}

/** What fish offers for a line, without the descriptions. */
function inFish(line: string): string[] {
  const script = `source ${quoted(join(programs, 'routewright.fish'))}; complete -C ${quoted(line)}`;
  return linesOf('fish', ['--no-config', '-c', script]).map((one) => one.split('\t')[0]!);
}

/** What zsh offers for a line: one completion in an interactive zsh that has a terminal of its own. */
function inZsh(line: string): string[] {
  const setup = [
    `fpath=(${quoted(programs)} $fpath)`,
    'autoload -Uz compinit; compinit -u -D',
    // What is offered is written down in place of being shown.
    `compadd() {
       local -a kept; local at
       if [[ " $* " == *" -O "* || " $* " == *" -A "* || " $* " == *" -D "* ]]; then builtin compadd "$@"; return; fi
       builtin compadd -O kept "$@"
       local suffix=''; at=\${@[(i)-S]}; (( at < $# )) && suffix=\${@[at+1]}
       for word in $kept; do print -r -- "$word$suffix" >> ${quoted(join(programs, 'offered'))}; done
       builtin compadd "$@"
     }`,
    'complete-now() { LBUFFER=$wanted; zle complete-word; print -r -- DONE >> ' +
      `${quoted(join(programs, 'offered'))}; zle -I; exit }`,
    'zle -N complete-now; bindkey "^X^T" complete-now',
  ].join('\n');
  writeFileSync(join(programs, 'zshrc'), setup);
  writeFileSync(join(programs, 'offered'), '');
  const drive = `
    zmodload zsh/zpty
    zpty terminal zsh -f -i
    zpty -w terminal ${quoted(`source ${quoted(join(programs, 'zshrc'))}; wanted=${quoted(line)}`)}
    zpty -w -n terminal $'\\C-x\\C-t'
    for i in {1..200}; do
      while zpty -r -t terminal output; do :; done
      grep -q DONE ${quoted(join(programs, 'offered'))} && break
      sleep 0.05
    done
    zpty -d terminal
    cat ${quoted(join(programs, 'offered'))}`;
  const offered = linesOf('zsh', ['-f', '-c', drive]);
  expect(offered).toContain('DONE');
  return [...new Set(offered.filter((one) => one !== 'DONE'))];
}

/** The same question to each shell. */
const shells = {
  bash: (line: string) => inBash(line.split(' ')),
  zsh: inZsh,
  fish: inFish,
};

describe.each(Object.entries(shells))('%s', (shell, offered) => {
  test('completes commands', () => {
    expect(offered('routewright ra')).toEqual(['rank']);
    expect(offered('routewright re')).toEqual(['review']);
    expect(offered('routewright help exi')).toEqual(['exit-codes']);
    expect(offered('routewright help ra')).toEqual(['rank']);
    expect(offered('routewright export ra')).toEqual(['ranking']);
    expect(offered('routewright export --t')).toEqual(['--target', '--to']);
    expect(offered('routewright ').filter((word) => !word.startsWith('-'))).toEqual([...names].sort());
  });

  test('completes the options of a command, and only those', () => {
    // zsh writes the "=" that a value may follow.
    const plain = (line: string) => offered(line).map((word) => word.replace(/=$/, ''));
    expect(plain('routewright rank --o')).toEqual(['--objective']);
    expect(plain('routewright plan --w')).toEqual(['--weeks']);
    expect(plain('routewright review --w')).toEqual([]);
  });

  test('completes values of a fixed set', () => {
    expect(offered('routewright rank --objective ')).toEqual(['target', 'time']);
    expect(offered('routewright check --fail-on w')).toEqual(['warning']);
    expect(offered('routewright completion f')).toEqual(['fish']);
  });

  test('completes ids of the routes in the folder', () => {
    expect(offered('routewright rank --explain ')).toEqual(['crate-vault', 'wall-kick']);
    expect(offered('routewright rank --explain crate-vault --nu')).toEqual(['--numbers']);
    expect(offered('routewright rank --cycle w')).toEqual(['wall-kick=']);
    expect(offered('routewright log --times h')).toEqual(['harbor=']);
    expect(offered('routewright log crate')).toEqual(['crate-vault']);
    expect(offered('routewright explain max')).toEqual(['max_tries']);
  });

  test('completes files', () => {
    // bash completes file names by itself where the function gives none.
    const files = shell === 'bash' ? [] : ['lanternfall.practice.yaml', 'lanternfall.route.yaml'];
    expect(offered('routewright check lan')).toEqual(files);
    expect(offered('routewright export lan')).toEqual(files);
    expect(offered('routewright export runs lan')).toEqual(files);
    expect(offered('routewright new --from ru')).toEqual(shell === 'bash' ? [] : ['runs.csv']);
    expect(offered('routewright log --import ru')).toEqual(shell === 'bash' ? [] : ['runs.csv']);
  });
});

test('bash completes --option=value, which it splits into three words', () => {
  expect(inBash(['routewright', 'rank', '--objective', '=', 't'])).toEqual(['target', 'time']);
  expect(inBash(['routewright', 'rank', '--objective', '='])).toEqual(['target', 'time']);
});

test('bash is told to complete file names by itself', () => {
  const script = `source ${quoted(join(programs, 'routewright.bash'))}; complete -p routewright`;
  expect(linesOf('bash', ['--norc', '--noprofile', '-c', script])).toEqual([
    'complete -o default -F _routewright routewright',
  ]);
});

test('the script for PowerShell registers a native completer that knows every command and option', async () => {
  const { out } = await routewright(folder, ['completion', 'powershell']);
  expect(out).toMatch(/^Register-ArgumentCompleter -Native -CommandName routewright -ScriptBlock \{$/m);
  expect(out).toContain('param($wordToComplete, $commandAst, $cursorPosition)');
  expect(out).toContain('[System.Management.Automation.CompletionResult]::new(');
  for (const { name, options } of commands) {
    expect(out).toContain(`        '${name}' = '`);
    for (const option of options) expect(out).toContain(`            '--${option.name}' = '`);
  }
  expect(out).toContain(`'rank --objective' = @('time', 'target')`);
  // Strings in single quotes only: what is in them is never expanded.
  const code = out.replace(/^#.*$/gm, '').replace(/'(?:[^']|'')*'/g, '');
  expect(code).not.toContain("'");
  for (const [open, close] of ['()', '{}', '[]'])
    expect(code.split(open!).length, open).toBe(code.split(close!).length);
});

describe('ids', () => {
  test('are those of the routes in the current folder, without what a shell might expand', async () => {
    const hostile = route.replace('  wall-kick: {', '  "$(touch x)": { saves: 1 }\n  wall-kick: {');
    const cwd = folderOf({ 'a.route.yaml': hostile, 'b/c.route.yaml': route.replaceAll('harbor', 'pier') });
    expect((await routewright(cwd, ['completion', '--ids', 'technique'])).out).toBe(
      'crate-vault\nwall-kick\n',
    );
    expect((await routewright(cwd, ['completion', '--ids', 'segment'])).out).toBe('harbor\nstairs\n');
  });

  test('are none where there is no route', async () => {
    const said = await routewright(folderOf({}), ['completion', '--ids', 'technique']);
    expect(said).toEqual({ code: 0, out: '', err: '' });
  });
});

test.each([
  [[], 'Say for which shell: routewright completion bash, for example.'],
  [['bsh'], 'bash, zsh, fish or powershell, not for bsh. Did you mean bash?'],
  [['bash', 'zsh'], 'Say for which shell'],
  [['--ids', 'route'], '--ids can be technique, segment or key, not route.'],
])('%j exits 2 with a sentence', async (argv, sentence) => {
  const { code, out, err } = await routewright(folder, ['completion', ...argv]);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toContain(sentence);
});

/** Git repositories in temporary folders, and hostile ones, whose settings name programs for git to run. */
import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

export interface Repository {
  readonly folder: string;
  git(...args: string[]): string;
  write(name: string, text: string): void;
  commit(subject: string): void;
  remove(): void;
}

/** An empty repository. The person's own git configuration has no effect on it. */
export function repository(): Repository {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-git-'));
  const env = {
    ...process.env,
    ...{ GIT_CONFIG_NOSYSTEM: '1', GIT_CONFIG_GLOBAL: '/dev/null', GIT_TERMINAL_PROMPT: '0' },
    ...{ GIT_AUTHOR_NAME: 'Iris', GIT_AUTHOR_EMAIL: 'iris@lanternfall.example' },
    ...{ GIT_COMMITTER_NAME: 'Iris', GIT_COMMITTER_EMAIL: 'iris@lanternfall.example' },
  };
  const git = (...args: string[]): string =>
    execFileSync('git', args, { cwd: folder, env, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  git('init', '--quiet', '--initial-branch=main');
  return {
    folder,
    git,
    write(name, text) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    },
    commit(subject) {
      git('add', '--all');
      git('commit', '--quiet', '--message', subject);
    },
    remove: () => rmSync(folder, { recursive: true, force: true, maxRetries: 3 }),
  };
}

/** The files that a hostile repository's programs write, one for each setting that started a program. */
export interface Traces {
  /** Names of the settings whose program ran. */
  found(): string[];
  clear(): void;
}

/**
 * Makes a repository hostile: every setting that makes git start a program names one that writes a file. These files
 * are in a folder next to the repository, which is removed with it.
 */
export function makeHostile({ folder }: Repository): Traces {
  const lair = join(folder, '.git', 'lair');
  const traces = join(lair, 'traces');
  mkdirSync(traces, { recursive: true });
  const program = (name: string): string => {
    const file = join(lair, name);
    writeFileSync(file, `#!/bin/sh\n: > '${join(traces, name)}'\nexit 1\n`);
    chmodSync(file, 0o755);
    return file;
  };
  const hooks = join(lair, 'hooks');
  mkdirSync(hooks);
  for (const hook of [
    'post-checkout',
    'post-index-change',
    'reference-transaction',
    'pre-auto-gc',
    'fsmonitor-watchman',
  ]) {
    writeFileSync(join(hooks, hook), `#!/bin/sh\n: > '${join(traces, `hook-${hook}`)}'\n`);
    chmodSync(join(hooks, hook), 0o755);
  }
  writeFileSync(join(lair, 'included'), `[core]\n\tfsmonitor = ${program('included-fsmonitor')}\n`);
  writeFileSync(
    join(folder, '.git', 'config'),
    `[core]
	repositoryformatversion = 1
	fsmonitor = ${program('fsmonitor')}
	hooksPath = ${hooks}
	pager = ${program('pager')}
	sshCommand = ${program('ssh')}
	askPass = ${program('askpass')}
	gitProxy = ${program('proxy')}
	editor = ${program('editor')}
	alternateRefsCommand = ${program('alternates')}
[include]
	path = ${join(lair, 'included')}
[diff]
	external = ${program('external')}
[diff "trap"]
	textconv = ${program('textconv')}
	command = ${program('diff-command')}
[filter "trap"]
	smudge = ${program('smudge')}
	clean = ${program('clean')}
	process = ${program('process')}
	required = true
[pager]
	cat-file = ${program('pager-cat-file')}
	rev-list = ${program('pager-rev-list')}
[alias]
	cat-file = !${program('alias')}
[credential]
	helper = !${program('credential')}
[log]
	showSignature = true
[gpg]
	program = ${program('gpg')}
[protocol]
	allow = always
[protocol "ext"]
	allow = always
[extensions]
	partialClone = origin
[remote "origin"]
	url = ext::${program('remote')}
	promisor = true
	uploadpack = ${program('uploadpack')}
`,
  );
  writeFileSync(join(folder, '.gitattributes'), '*.yaml diff=trap filter=trap\n');
  return {
    found: () => (existsSync(traces) ? readdirSync(traces).sort() : []),
    clear: () => {
      rmSync(traces, { recursive: true, force: true });
      mkdirSync(traces, { recursive: true });
    },
  };
}

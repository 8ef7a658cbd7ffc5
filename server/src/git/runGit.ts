import { execFile } from 'node:child_process';
import { dirname } from 'node:path';
import process from 'node:process';

/** The output of git, or a sentence that says why there is none. */
export type GitResult = { readonly text: string } | { readonly message: string };

const timeoutMs = 10_000;
const maxOutputBytes = 8 * 1024 * 1024;

/**
 * Settings that override the configuration of a repository.
 *
 * Opening another person's repository must not run their commands. With the git commands used here, these could run
 * one: a monitor that is asked about changed files, hooks, a pager, a program that checks signatures, and above all
 * fetching the objects that a partial clone lacks, which starts a remote helper, ssh or a credential helper of the
 * repository's choice.
 */
const hardenedSettings = [
  'core.fsmonitor=false',
  'core.hooksPath=/dev/null',
  'core.pager=cat',
  'core.askPass=',
  'credential.helper=',
  'log.showSignature=false',
  'protocol.allow=never',
  'safe.bareRepository=explicit',
];

/**
 * The environment of git, without variables that were set for other purposes; git must neither ask for input nor use
 * the network.
 */
function environment(): NodeJS.ProcessEnv {
  const kept = ['PATH', 'Path', 'HOME', 'USERPROFILE', 'SYSTEMROOT', 'SystemRoot'];
  const env: NodeJS.ProcessEnv = {};
  for (const name of kept) if (process.env[name] !== undefined) env[name] = process.env[name];
  return {
    ...env,
    LC_ALL: 'C',
    // A list of the allowed protocols, which overrides every protocol.*.allow of the repository. No protocol has this
    // name, so none is allowed.
    GIT_ALLOW_PROTOCOL: 'none',
    GIT_NO_LAZY_FETCH: '1',
    GIT_CONFIG_NOSYSTEM: '1',
    GIT_OPTIONAL_LOCKS: '0',
    GIT_TERMINAL_PROMPT: '0',
    GIT_ASKPASS: '',
    SSH_ASKPASS: '',
    GIT_SSH_COMMAND: 'false',
    GIT_PAGER: 'cat',
    GIT_NO_REPLACE_OBJECTS: '1',
  };
}

/**
 * Starts git without a shell and waits for its output.
 *
 * @param folder a path on the disk; it is passed to git as an argument and is not the process's current folder, because
 *   some systems would start a program named git in that folder
 */
export function runGit(folder: string, args: readonly string[]): Promise<GitResult> {
  const hardened = hardenedSettings.flatMap((setting) => ['-c', setting]);
  const all = ['--no-pager', '--no-optional-locks', ...hardened, '-C', folder, ...args];
  const options = {
    cwd: dirname(process.execPath),
    env: environment(),
    timeout: timeoutMs,
    killSignal: 'SIGKILL',
    maxBuffer: maxOutputBytes,
    windowsHide: true,
    encoding: 'buffer',
    shell: false,
  } as const;
  return new Promise((resolve) => {
    execFile('git', all, options, (error, stdout, stderr) => {
      resolve(error === null ? decoded(stdout) : { message: failureMessage(error, stderr.toString('utf8')) });
    });
  });
}

function decoded(bytes: Buffer): GitResult {
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { message: 'What git holds there is not UTF-8 text.' };
  }
}

interface Failure {
  readonly code?: string | number | null;
  readonly killed?: boolean;
}

function failureMessage(error: Failure, stderr: string): string {
  if (error.code === 'ENOENT') return 'git is not installed, or not among the programs that can be found.';
  if (error.code === 'ERR_CHILD_PROCESS_STDIO_MAXBUFFER') return 'What git holds there is larger than 8 MB.';
  if (error.killed) return 'git took longer than 10 seconds and was stopped.';
  if (/not a git repository/.test(stderr)) return 'The folder belongs to no git repository.';
  if (/dubious ownership/.test(stderr)) return 'git refuses the repository, since another user owns it.';
  if (/exists on disk, but not in|does not exist in/.test(stderr)) return 'The file is not in that revision.';
  if (/[Nn]ot a valid object name|[Ii]nvalid object name|bad revision|unknown revision/.test(stderr))
    return 'git knows no such revision.';
  if (/missing|promis|lazy|fetch|transport|protocol/i.test(stderr))
    return 'The repository does not hold that version itself, and nothing is fetched here.';
  return 'git did not answer.';
}

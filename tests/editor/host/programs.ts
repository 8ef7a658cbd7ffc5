import { spawnSync } from 'node:child_process';
import { findProgram, isExecutable, lastLines, runCommand } from './command.ts';
import { HostProblem } from './problem.ts';

/** The programs of the system that the editor host works with, as absolute paths. */
export interface SystemPrograms {
  readonly chromium: string;
  readonly ripgrep: string;
}

/** The editors other than VS Code that the language server is tried in, as absolute paths. */
export interface TextEditors {
  readonly neovim: string;
  readonly emacs: string;
}

/**
 * One program that may be missing, the Debian packages that contain it (separated by spaces), and their approximate
 * size.
 */
interface Need {
  readonly name: string;
  readonly debianPackage: string;
  readonly size: string;
  readonly find: () => string | undefined;
}

const BROWSER: Need = {
  name: 'Chromium',
  debianPackage: 'chromium',
  size: 'about 400 MB with what it depends on',
  find: () => {
    const chosen = process.env['ROUTEWRIGHT_CHROMIUM'];
    if (chosen !== undefined && chosen !== '') return isExecutable(chosen) ? chosen : undefined;
    return findProgram('chromium', 'chromium-browser');
  },
};
const RIPGREP: Need = {
  name: 'ripgrep (rg)',
  debianPackage: 'ripgrep',
  size: 'about 6 MB',
  find: () => findProgram('rg'),
};
const NEOVIM: Need = {
  name: 'Neovim',
  debianPackage: 'neovim',
  size: 'about 40 MB',
  find: () => findProgram('nvim'),
};
/** Eglot is a part of Emacs from version 29 on, and a package of its own before. */
const EMACS: Need = {
  name: 'Emacs with Eglot',
  debianPackage: 'emacs-nox elpa-eglot',
  size: 'about 130 MB',
  find: () => {
    const emacs = findProgram('emacs');
    const test = '(kill-emacs (if (locate-library "eglot") 0 1))';
    return emacs !== undefined && spawnSync(emacs, ['--batch', '--eval', test]).status === 0
      ? emacs
      : undefined;
  },
};
/** The programs that compile the host's three native modules. */
const COMPILERS: readonly Need[] = [
  { name: 'python3', debianPackage: 'python3', size: 'about 30 MB', find: () => findProgram('python3') },
  { name: 'make', debianPackage: 'make', size: 'about 2 MB', find: () => findProgram('make') },
  { name: 'g++', debianPackage: 'g++', size: 'about 200 MB', find: () => findProgram('g++') },
];

/** The shells whose completion is tested, and what formats the manual page. */
const TERMINAL: readonly Need[] = [
  { name: 'zsh', debianPackage: 'zsh', size: 'about 17 MB', find: () => findProgram('zsh') },
  { name: 'fish', debianPackage: 'fish', size: 'about 18 MB', find: () => findProgram('fish') },
  { name: 'mandoc', debianPackage: 'mandoc', size: 'about 1 MB', find: () => findProgram('mandoc') },
];

const APT_LIMIT_MS = 15 * 60_000;

/**
 * Finds zsh and fish for the tests of completion and mandoc for that of the manual page, and installs what is missing from Debian's packages when run as root.
 *
 * @param say receives plain sentences about what is being installed
 * @throws HostProblem as ensurePrograms does
 */
export async function ensureTerminalPrograms(say: (sentence: string) => void): Promise<void> {
  const missing = TERMINAL.filter((need) => need.find() === undefined);
  if (missing.length > 0) await installFromDebian(missing, say);
}

/**
 * Finds Chromium and ripgrep, and installs what is missing from Debian's packages when run as root.
 *
 * @param options.compilers whether native modules are about to be compiled, so that compilers are needed too
 * @param options.say receives plain sentences about what is being installed
 * @throws HostProblem naming what is missing and the command that installs it, where it cannot be done here
 */
export async function ensurePrograms(options: {
  readonly compilers: boolean;
  readonly say: (sentence: string) => void;
}): Promise<SystemPrograms> {
  const needs = [BROWSER, RIPGREP, ...(options.compilers ? COMPILERS : [])];
  const missing = needs.filter((need) => need.find() === undefined);
  if (missing.length > 0) await installFromDebian(missing, options.say);
  return { chromium: required(BROWSER), ripgrep: required(RIPGREP) };
}

/**
 * Finds the other editors, and installs what is missing from Debian's packages when run as root.
 *
 * @throws HostProblem as `ensurePrograms` does
 */
export async function ensureTextEditors(say: (sentence: string) => void): Promise<TextEditors> {
  const missing = [NEOVIM, EMACS].filter((need) => need.find() === undefined);
  if (missing.length > 0) await installFromDebian(missing, say);
  return findTextEditors();
}

/** The paths of the other editors. @throws HostProblem naming the one that is missing and what installs it */
export function findTextEditors(): TextEditors {
  return { neovim: required(NEOVIM), emacs: required(EMACS) };
}

/** The path of Chromium. @throws HostProblem where there is none */
export function findChromium(): string {
  return required(BROWSER);
}

function required(need: Need): string {
  const path = need.find();
  if (path === undefined) {
    throw new HostProblem(
      `${need.name} was not found. Install it (on Debian: apt-get install ${need.debianPackage})` +
        `${need === BROWSER ? ', or set ROUTEWRIGHT_CHROMIUM to the path of an executable Chromium' : ''}.`,
    );
  }
  return path;
}

async function installFromDebian(missing: readonly Need[], say: (sentence: string) => void): Promise<void> {
  const names = missing.map((need) => need.name).join(', ');
  const packages = missing.flatMap((need) => need.debianPackage.split(' '));
  const byHand = `apt-get update && apt-get install -y ${packages.join(' ')}`;
  const aptGet = findProgram('apt-get');
  if (aptGet === undefined) {
    throw new HostProblem(
      `The tests need ${names}, which this machine lacks, and there is no apt-get here to install it ` +
        'with. Install it with the system’s own package manager and start again.',
    );
  }
  if (process.getuid?.() !== 0) {
    throw new HostProblem(
      `The tests need ${names}, which this machine lacks. Installing it needs root: sudo sh -c '${byHand}'`,
    );
  }
  const sizes = missing.map((need) => `${need.name}: ${need.size}`).join('; ');
  say(`Installing from Debian’s packages: ${packages.join(', ')} (${sizes}).`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const steps: readonly (readonly string[])[] = [
    ['update'],
    ['install', '-y', '--no-install-recommends', ...packages],
  ];
  for (const step of steps) {
    const done = await runCommand(aptGet, step, { env, limit: APT_LIMIT_MS });
    if (done.code !== 0) {
      throw new HostProblem(
        `"apt-get ${step.join(' ')}" did not succeed, so ${names} could not be installed. Its last lines:\n` +
          lastLines(done.output, 8),
      );
    }
  }
}

/** Debian's packages of every program that a test may need. */
export const allDebianPackages: readonly string[] = [
  ...[BROWSER, RIPGREP, NEOVIM, EMACS],
  ...COMPILERS,
  ...TERMINAL,
].flatMap(({ debianPackage }) => debianPackage.split(' '));

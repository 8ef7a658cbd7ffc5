import { describe, expect, it } from 'vitest';
import { DEFAULT_TIMEOUT_S, parseArguments } from './arguments.ts';
import type { LaunchArguments } from './arguments.ts';

function understood(...argv: string[]): LaunchArguments {
  const parsed = parseArguments(argv);
  if (!parsed.ok) throw new Error(parsed.problem);
  return parsed.value;
}

function refused(...argv: string[]): string {
  const parsed = parseArguments(argv);
  return parsed.ok ? 'understood' : parsed.problem;
}

describe('the launcher’s arguments', () => {
  // Source: the argument list built by runTests in @vscode/test-electron 2.5.2, out/runTest.js (mark S).
  const FROM_RUN_TESTS = [
    '/work space/folder',
    '--user-data-dir=/tmp/user-data',
    '--extensions-dir=/tmp/extensions',
    '--no-sandbox',
    '--disable-gpu-sandbox',
    '--disable-updates',
    '--skip-welcome',
    '--skip-release-notes',
    '--disable-workspace-trust',
    '--extensionTestsPath=/tmp/suite.cjs',
    '--extensionDevelopmentPath=/ext=1',
  ];

  it('are those that runTests passes to the desktop program', () => {
    expect(understood(...FROM_RUN_TESTS)).toEqual({
      extensionDevelopmentPaths: ['/ext=1'],
      extensionTestsPath: '/tmp/suite.cjs',
      userDataDir: '/tmp/user-data',
      extensionsDir: '/tmp/extensions',
      workspace: '/work space/folder',
      trustEverything: true,
      timeout: DEFAULT_TIMEOUT_S,
    });
  });

  it('let --keep-trust win over --disable-workspace-trust, wherever it stands', () => {
    expect(understood('--keep-trust', ...FROM_RUN_TESTS).trustEverything).toBe(false);
    expect(understood(...FROM_RUN_TESTS, '--keep-trust').trustEverything).toBe(false);
    expect(understood().trustEverything).toBe(false);
  });

  it('take a value after a space as well, and several extensions', () => {
    const asked = understood(
      '--extensionDevelopmentPath',
      '/a',
      '--extensionDevelopmentPath=/b',
      '--timeout',
      '7.5',
    );
    expect(asked.extensionDevelopmentPaths).toEqual(['/a', '/b']);
    expect(asked.timeout).toBe(7.5);
  });

  it.each([
    [['--frobnicate'], '--frobnicate is not a flag'],
    [['--timeout'], '--timeout needs a value'],
    [['--user-data-dir', '--keep-trust'], '--user-data-dir needs a value'],
    [['--timeout=0'], 'greater than 0'],
    [['--timeout=soon'], 'greater than 0'],
    [['/one', '/two'], 'One folder can be opened at a time, and 2'],
  ])('%j is refused with a sentence', (argv, sentence) => {
    expect(refused(...argv)).toContain(sentence);
  });
});

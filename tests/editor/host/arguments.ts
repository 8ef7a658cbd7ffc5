/** The launcher's arguments; paths as they were given. */
export interface LaunchArguments {
  readonly extensionDevelopmentPaths: readonly string[];
  readonly extensionTestsPath: string | undefined;
  readonly userDataDir: string | undefined;
  readonly extensionsDir: string | undefined;
  /** The folder, or the .code-workspace file, to open. */
  readonly workspace: string | undefined;
  /** True: every workspace is trusted without asking. */
  readonly trustEverything: boolean;
  /** Overall time limit in seconds. */
  readonly timeout: number;
}

/** Either the arguments, or a sentence about the one that was not understood. */
export type ParsedArguments =
  { readonly ok: true; readonly value: LaunchArguments } | { readonly ok: false; readonly problem: string };

export const DEFAULT_TIMEOUT_S = 300;

const WITH_VALUE = new Set([
  'extensionDevelopmentPath',
  'extensionTestsPath',
  'user-data-dir',
  'extensions-dir',
  'timeout',
]);

/**
 * Flags of the desktop program that runTests of @vscode/test-electron passes, or that a launch configuration may carry,
 * and that have no effect here: this host has no update, no welcome page and no other extension.
 */
const WITHOUT_EFFECT = new Set([
  'no-sandbox',
  'disable-gpu-sandbox',
  'disable-gpu',
  'disable-updates',
  'disable-extensions',
  'disable-telemetry',
  'skip-welcome',
  'skip-release-notes',
  'new-window',
]);

/**
 * Reads the launcher's arguments, which are the desktop program's own flags and two more: `--keep-trust`,
 * which overrides `--disable-workspace-trust`, and `--timeout SECONDS`. A value may follow `=` or be the next
 * argument.
 */
export function parseArguments(argv: readonly string[]): ParsedArguments {
  const values = new Map<string, string[]>();
  const switches = new Set<string>();
  const positional: string[] = [];
  for (let index = 0; index < argv.length; index += 1) {
    const argument = argv[index] ?? '';
    if (!argument.startsWith('--')) {
      positional.push(argument);
      continue;
    }
    const [name = '', ...rest] = argument.slice(2).split('=');
    if (WITH_VALUE.has(name)) {
      let value = rest.join('=');
      if (rest.length === 0) {
        index += 1;
        value = argv[index] ?? '';
      }
      if (value === '' || value.startsWith('--')) return problem(`--${name} needs a value.`);
      values.set(name, [...(values.get(name) ?? []), value]);
    } else if (name === 'disable-workspace-trust' || name === 'keep-trust') {
      switches.add(name);
    } else if (!WITHOUT_EFFECT.has(name)) {
      return problem(`--${name} is not a flag that this editor host knows.`);
    }
  }
  if (positional.length > 1) {
    return problem(`One folder can be opened at a time, and ${positional.length} were given.`);
  }
  const timeout = Number(values.get('timeout')?.at(-1) ?? DEFAULT_TIMEOUT_S);
  if (!(timeout > 0 && Number.isFinite(timeout))) {
    return problem('--timeout is a number of seconds greater than 0.');
  }
  return {
    ok: true,
    value: {
      extensionDevelopmentPaths: values.get('extensionDevelopmentPath') ?? [],
      extensionTestsPath: values.get('extensionTestsPath')?.at(-1),
      userDataDir: values.get('user-data-dir')?.at(-1),
      extensionsDir: values.get('extensions-dir')?.at(-1),
      workspace: positional[0],
      trustEverything: switches.has('disable-workspace-trust') && !switches.has('keep-trust'),
      timeout,
    },
  };
}

function problem(sentence: string): ParsedArguments {
  return { ok: false, problem: sentence };
}

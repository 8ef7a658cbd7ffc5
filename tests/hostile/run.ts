/**
 * One run of the whole in a folder that was written to do harm: `npm run hostile`. Every command of the command line and
 * every request of the server, with everything that the processes did written down. Prints the figures that SECURITY.md
 * quotes; the exit code is 1 where one of those that must be zero is not.
 */
import { pathToFileURL } from 'node:url';
import { commands } from '../../server/src/cli/commandList.ts';
import { statusRequest } from '../../server/src/protocol/messages/findings.ts';
import { buildCommand } from '../helpers/builtCommand.ts';
import { hostileFiles, hostileFolder } from '../helpers/hostileFolder.ts';
import { measured } from '../helpers/measured.ts';
import { type Deeds, record } from '../helpers/record.ts';
import { unreadable } from '../helpers/strangeFiles.ts';
import { askEverything } from '../lsp/askEverything.ts';
import { bundleServer, startProcess } from '../lsp/server.ts';

const hangSeconds = 2;
const limit = 60;
/** Those that begin something, such as a server or a new folder, or complete words for a shell. */
const apart = new Set(['serve', 'new', 'completion', 'log']);

const strange = hostileFolder();
const command = await buildCommand();
const bundle = await bundleServer('main');
const figures = { inputs: 0, crashes: 0, hangs: 0, megabytes: 0, outside: 0, programs: 0 };
const slow: string[] = [];
const count = ({ megabytes, opened, programs }: Deeds): void => {
  figures.megabytes = Math.max(figures.megabytes, megabytes);
  figures.outside += opened.filter(
    (path) => path.startsWith('/dev/') || path.startsWith(strange.outside),
  ).length;
  figures.programs += programs.length;
};

try {
  const names = [
    ...Object.keys(hostileFiles),
    ...Object.keys(unreadable),
    'above.runs.yaml',
    'device.runs.yaml',
    '.',
  ];
  const lines = commands
    .filter(({ name }) => !apart.has(name))
    .flatMap(({ name }) => names.map((file) => (name === 'compare' ? [name, file, file] : [name, file])));
  lines.push(...names.map((file) => ['log', 'constructor', '--tape', 'lm', file]));
  lines.push(...names.map((file) => ['log', '--import', file, 'proto.route.yaml']));
  for (const argv of lines) {
    const done = await measured([command.script, ...argv], { cwd: strange.folder, env: command.env, limit });
    figures.inputs++;
    if (typeof done.code === 'string') figures.hangs++;
    else if (![0, 1, 2].includes(done.code) || /\bat .*\.js:\d+/.test(done.err)) figures.crashes++;
    if (done.cpuSeconds > hangSeconds) {
      figures.hangs++;
      slow.push(`${argv.join(' ')}: ${done.cpuSeconds.toFixed(1)} s`);
    }
    count(done);
  }

  const recording = record();
  const server = startProcess(bundle.file, recording);
  const folder = pathToFileURL(strange.folder).toString();
  await server.client.initialize(folder, { today: '2026-11-09' });
  for (const [name, text] of Object.entries(hostileFiles)) {
    await server.client.open(`${folder}/${name}`, text);
    // Until the folder is read and the library is loaded: the start is no request.
    await server.client.request(statusRequest, { uri: `${folder}/${name}` });
    for (const { method, seconds } of await askEverything(server.client, `${folder}/${name}`, text, 7)) {
      figures.inputs++;
      if (seconds > hangSeconds) {
        figures.hangs++;
        slow.push(`${method} in ${name}: ${seconds.toFixed(1)} s`);
      }
    }
  }
  if ((await server.stop()) !== 0) figures.crashes++;
  count(recording.deeds());
  recording.remove();
} finally {
  strange.remove();
  await command.remove();
  await bundle.remove();
}

console.log(`inputs tried                    ${figures.inputs}
crashes                         ${figures.crashes}
hangs over ${hangSeconds} s                  ${figures.hangs}
memory at most                  ${Math.round(figures.megabytes)} MB
files read from outside         ${figures.outside}
programs started                ${figures.programs}`);
for (const line of slow) console.log(`slow: ${line}`);
process.exitCode = figures.crashes + figures.hangs + figures.outside + figures.programs > 0 ? 1 : 0;

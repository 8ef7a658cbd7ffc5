// Starts routewright.
import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const builtOnDemand = fileURLToPath(new URL('../../routewright', import.meta.url));
const minutes = 60_000;

/**
 * @typedef {object} Answer
 * @property {number} exit
 * @property {string} out
 * @property {string} err
 */

/**
 * Runs a command of routewright, without a shell and without what the runner hands to this step alone.
 *
 * @param {string[]} args
 * @param {string} folder in which it runs
 * @returns {Promise<Answer>}
 */
export function routewright(args, folder) {
  const [program = '', ...before] = programOf(process.env.ROUTES_COMMAND ?? '');
  const env = { ...process.env, COLUMNS: '100', LC_ALL: 'C.UTF-8', NO_COLOR: '1' };
  for (const name of ['GITHUB_OUTPUT', 'GITHUB_ENV', 'GITHUB_PATH', 'GITHUB_STATE', 'GITHUB_STEP_SUMMARY'])
    delete env[name];
  const options = { cwd: folder, env, encoding: 'utf8', maxBuffer: 256 * 1024 * 1024, timeout: 20 * minutes };
  return new Promise((done) => {
    execFile(program, [...before, ...args], options, (error, out, err) => {
      const exit = error === null ? 0 : typeof error.code === 'number' ? error.code : 2;
      done({
        exit,
        out: String(out),
        err: String(err) || (error !== null && exit === 2 ? error.message : ''),
      });
    });
  });
}

/**
 * @param {string} named the path of an installed command, or nothing
 * @returns {string[]}
 */
function programOf(named) {
  if (named === '') return ['bash', builtOnDemand];
  const path = resolve(process.env.GITHUB_WORKSPACE ?? '.', named);
  return /\.m?js$/.test(path) ? [process.execPath, path] : [path];
}

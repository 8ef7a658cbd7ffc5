// Writes the report as a comment of the pull request, or writes it over the comment of an earlier run: the second step of
// action.yml. Whatever it cannot do is a warning; the report is in the job summary all the same.
import { readFileSync } from 'node:fs';

const mark = '<!-- routewright: changed routes -->';
/** A comment may have 65,536 characters. */
const longest = 60_000;
const pages = 10;

const { env } = process;
const repository = `${env.GITHUB_API_URL}/repos/${env.GITHUB_REPOSITORY}`;

class RefusedError extends Error {
  /** @param {number} status */
  constructor(status) {
    super(`HTTP ${status}`);
    this.status = status;
  }
}

try {
  const outcome = await writeComment();
  process.stdout.write(`${outcome}\n`);
} catch (error) {
  const status = error instanceof RefusedError ? ` (HTTP ${error.status})` : '';
  process.stdout.write(
    `::warning::The comment could not be written${status}: the job summary has the report.\n`,
  );
}

/** @returns {Promise<string>} a sentence for the log */
async function writeComment() {
  if (!/^\d+$/.test(env.ROUTES_PULL ?? '') || !env.ROUTES_REPORT) return 'There is nothing to comment on.';
  const former = await formerComment();
  // Where no route changed and nothing was said before, a comment would be noise.
  if (former === undefined && !(Number(env.ROUTES_CHANGED) > 0)) return 'No route changed: no comment.';
  const report = readFileSync(env.ROUTES_REPORT, 'utf8');
  const whole = report.length <= longest;
  const body = `${mark}\n${whole ? report : '## Routes\n\nThe report is too long for a comment: the job summary has it.\n'}`;
  if (former === undefined) await ask('POST', `/issues/${env.ROUTES_PULL}/comments`, { body });
  else await ask('PATCH', `/issues/comments/${former}`, { body });
  return former === undefined ? 'The comment was written.' : 'The comment was brought up to date.';
}

/**
 * The comment of an earlier run. A person's comment is never written over, whatever it begins with.
 *
 * @returns {Promise<number | undefined>} its id
 */
async function formerComment() {
  for (let page = 1; page <= pages; page++) {
    const comments = await ask('GET', `/issues/${env.ROUTES_PULL}/comments?per_page=100&page=${page}`);
    for (const { id, body, user } of comments)
      if (Number.isSafeInteger(id) && user?.type === 'Bot' && String(body).startsWith(mark)) return id;
    if (comments.length < 100) return undefined;
  }
  return undefined;
}

/**
 * @param {string} method
 * @param {string} path below the repository
 * @param {unknown} [body]
 * @returns {Promise<any>}
 */
async function ask(method, path, body) {
  const response = await fetch(`${repository}${path}`, {
    method,
    headers: {
      accept: 'application/vnd.github+json',
      authorization: `Bearer ${env.ROUTES_TOKEN}`,
      'content-type': 'application/json',
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    signal: AbortSignal.timeout(30_000),
  });
  if (!response.ok) throw new RefusedError(response.status);
  return response.json();
}

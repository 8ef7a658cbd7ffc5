import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { runnerFolder, runStep, type Step } from './actionRun.ts';

interface Comment {
  readonly id: number;
  body: string;
  readonly user: { readonly type: string };
}

const mark = '<!-- routewright: changed routes -->';
const open: { server?: Server; folder?: ReturnType<typeof runnerFolder> } = {};
afterEach(() => {
  open.server?.close();
  open.folder?.remove();
});

/** The step beside a host of pull requests on this machine, which has the comments of pull request 7. */
async function comment(
  comments: Comment[],
  { refuse, changed = '1', pull = '7', report = '## Routes\n' }: Record<string, string | undefined> = {},
): Promise<Step & { readonly asked: string[] }> {
  const asked: string[] = [];
  const server = createServer((request, response) => {
    let text = '';
    request.on('data', (chunk: Buffer) => (text += chunk.toString()));
    request.on('end', () => {
      const { method, url, headers } = request;
      asked.push(`${method} ${url}`);
      const send = (status: number, body: unknown) =>
        response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
      if (headers.authorization !== 'Bearer secret' || method === refuse)
        return send(403, { message: '::error::no' });
      const at = new URL(url!, 'http://localhost');
      const page = Number(at.searchParams.get('page'));
      if (method === 'GET') return send(200, comments.slice((page - 1) * 100, page * 100));
      const { body } = JSON.parse(text) as { body: string };
      const id = Number(at.pathname.split('/').at(-1));
      if (method === 'PATCH') comments.find((one) => one.id === id)!.body = body;
      else comments.push({ id: 1_000, body, user: { type: 'Bot' } });
      return send(200, {});
    });
  });
  open.server = server;
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const folder = runnerFolder();
  open.folder = folder;
  const file = join(folder.path, 'routes.md');
  writeFileSync(file, report);
  const step = await runStep('comment.mjs', folder.path, {
    GITHUB_API_URL: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    GITHUB_REPOSITORY: 'iris/lanternfall',
    ROUTES_TOKEN: 'secret',
    ROUTES_PULL: pull,
    ROUTES_REPORT: file,
    ROUTES_CHANGED: changed,
  });
  return { ...step, asked };
}

const others = (count: number): Comment[] =>
  Array.from({ length: count }, (_, id) => ({ id, body: 'Nice.', user: { type: 'User' } }));

it('writes a comment with the report, once', async () => {
  const comments = others(3);
  const { code, log, asked } = await comment(comments);
  expect({ code, log }).toEqual({ code: 0, log: 'The comment was written.\n' });
  expect(asked).toEqual([
    'GET /repos/iris/lanternfall/issues/7/comments?per_page=100&page=1',
    'POST /repos/iris/lanternfall/issues/7/comments',
  ]);
  expect(comments).toHaveLength(4);
  expect(comments[3]!.body).toBe(`${mark}\n## Routes\n`);
});

it('brings its own comment up to date, even where no route differs any more, and leaves those of people', async () => {
  const comments = [
    { id: 500, body: `${mark}\nA person wrote this.`, user: { type: 'User' } },
    ...others(120),
    { id: 501, body: `${mark}\nFormer`, user: { type: 'Bot' } },
  ];
  const { log } = await comment(comments, { changed: '0', report: 'Now\n' });
  expect(log).toBe('The comment was brought up to date.\n');
  expect(comments).toHaveLength(122);
  expect(comments.at(-1)!.body).toBe(`${mark}\nNow\n`);
  expect(comments[0]!.body).toBe(`${mark}\nA person wrote this.`);
});

it('says nothing where no route changed, or where there is no pull request', async () => {
  const comments = others(1);
  expect((await comment(comments, { changed: '0' })).log).toBe('No route changed: no comment.\n');
  open.server?.close();
  const { log, asked } = await comment(comments, { pull: '7/../8' });
  expect({ log, asked }).toEqual({ log: 'There is nothing to comment on.\n', asked: [] });
  expect(comments).toHaveLength(1);
});

it('points to the job summary where the report is too long', async () => {
  const comments: Comment[] = [];
  await comment(comments, { report: 'x'.repeat(70_000) });
  expect(comments[0]!.body).toContain('too long for a comment');
});

it.each(['GET', 'POST'])(
  'warns, repeats nothing of the answer and does not fail where %s is refused',
  async (refuse) => {
    const { code, log } = await comment([], { refuse });
    expect({ code, log }).toEqual({
      code: 0,
      log: '::warning::The comment could not be written (HTTP 403): the job summary has the report.\n',
    });
  },
);

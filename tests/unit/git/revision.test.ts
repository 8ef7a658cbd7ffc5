import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { isRevision } from '../../../server/src/git/isRevision.ts';
import { commitsChanging, fileAtRevision } from '../../../server/src/git/revision.ts';
import { makeHostile, repository, type Repository } from '../../helpers/repository.ts';

const made: Repository[] = [];
afterEach(() => {
  for (const one of made.splice(0)) one.remove();
});

/** Two versions of a route in a folder of a repository. */
function twoVersions(): Repository {
  const repo = repository();
  made.push(repo);
  repo.write('routes/a.route.yaml', 'game: First\n');
  repo.commit('Write it down');
  repo.write('routes/a.route.yaml', 'game: Second\n');
  repo.commit('Another\tgame');
  return repo;
}

const pathOf = ({ folder }: Repository) => join(folder, 'routes', 'a.route.yaml');

describe('a file at a revision', () => {
  test('is the text that was committed, and not what stands on the disk', async () => {
    const repo = twoVersions();
    repo.write('routes/a.route.yaml', 'game: Third\n');
    expect(await fileAtRevision('HEAD', pathOf(repo))).toEqual({ text: 'game: Second\n' });
    expect(await fileAtRevision('HEAD~1', pathOf(repo))).toEqual({ text: 'game: First\n' });
    expect(await fileAtRevision('main', pathOf(repo))).toEqual({ text: 'game: Second\n' });
    rmSync(pathOf(repo));
    expect(await fileAtRevision('HEAD^', pathOf(repo))).toEqual({ text: 'game: First\n' });
  });

  test.each([
    ['HEAD~9', 'a.route.yaml', 'git knows no such revision.'],
    ['HEAD', 'b.route.yaml', 'The file is not in that revision.'],
    ['--output=x', 'a.route.yaml', '"--output=x" is no name of a git revision.'],
    ['HEAD:b.route.yaml;', 'a.route.yaml', '"HEAD:b.route.yaml;" is no name of a git revision.'],
    ['', 'a.route.yaml', '"" is no name of a git revision.'],
  ])('%j of %s: %s', async (revision, name, message) => {
    const repo = twoVersions();
    expect(await fileAtRevision(revision, join(repo.folder, 'routes', name))).toEqual({ message });
  });

  test('a folder outside any repository has none', async () => {
    const repo = twoVersions();
    rmSync(join(repo.folder, '.git'), { recursive: true });
    expect(await fileAtRevision('HEAD', pathOf(repo))).toEqual({
      message: 'The folder belongs to no git repository.',
    });
  });

  test('what is not text, and what is too large, is refused', async () => {
    const repo = twoVersions();
    writeFileSync(pathOf(repo), Uint8Array.of(0x61, 0xff, 0xfe));
    repo.commit('Bytes');
    expect(await fileAtRevision('HEAD', pathOf(repo))).toEqual({
      message: 'What git holds there is not UTF-8 text.',
    });
    repo.write('routes/a.route.yaml', 'x'.repeat(9 * 1024 * 1024));
    repo.commit('Much');
    expect(await fileAtRevision('HEAD', pathOf(repo))).toEqual({
      message: 'What git holds there is larger than 8 MB.',
    });
  });
});

describe('the commits of a file', () => {
  test('come newest first, with date and subject', async () => {
    const repo = twoVersions();
    repo.write('other.txt', 'x');
    repo.commit('Something else');
    const commits = await commitsChanging(pathOf(repo));
    expect(commits).toMatchObject([{ subject: 'Another game' }, { subject: 'Write it down' }]);
    if ('message' in commits) throw new Error(commits.message);
    for (const { revision, date } of commits) {
      expect(revision).toMatch(/^[0-9a-f]{40}$/);
      expect(date).toMatch(/^\d{4}-\d\d-\d\d$/);
    }
    expect(await fileAtRevision(commits[1]!.revision, pathOf(repo))).toEqual({ text: 'game: First\n' });
  });
});

describe('a hostile repository', () => {
  test('runs none of the programs that it names', async () => {
    const repo = twoVersions();
    const traces = makeHostile(repo);
    expect(await fileAtRevision('HEAD~1', pathOf(repo))).toEqual({ text: 'game: First\n' });
    expect(await commitsChanging(pathOf(repo))).toHaveLength(2);
    expect(traces.found()).toEqual([]);
    // The trap is a real one: what a careless program would ask of git springs it.
    expect(() => repo.git('status')).toThrow();
    expect(traces.found()).toEqual(expect.arrayContaining(['included-fsmonitor', 'process']));
  });

  test('cannot have what it lacks fetched by a program of its choice', async () => {
    const repo = twoVersions();
    const blob = repo.git('rev-parse', 'HEAD~1:routes/a.route.yaml').trim();
    const traces = makeHostile(repo);
    rmSync(join(repo.folder, '.git', 'objects', blob.slice(0, 2), blob.slice(2)));
    const answer = await fileAtRevision('HEAD~1', pathOf(repo));
    expect(answer).toEqual({
      message: 'The repository does not hold that version itself, and nothing is fetched here.',
    });
    expect(traces.found()).toEqual([]);
    // The same question asked carelessly starts the remote's program.
    expect(() => repo.git('cat-file', 'blob', blob)).toThrow();
    expect(traces.found()).toContain('remote');
  });
});

test('a revision is a name, never an option, a range or a path', () => {
  for (const good of ['HEAD', 'HEAD~3', 'v1.0^', 'topic/new-skip', 'main@{1}', 'a'.repeat(40)])
    expect(isRevision(good), good).toBe(true);
  for (const bad of ['', '-p', '--all', 'a..b', 'a:b', 'a b', 'a\nb', '$(x)', ';x', 'a'.repeat(201)])
    expect(isRevision(bad), bad).toBe(false);
});

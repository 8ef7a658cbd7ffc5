import { describe, expect, test } from 'vitest';
import { Desk, started } from '../helpers/desk.ts';
import { folderOf, practice, route, routewright } from './place.ts';

describe('a technique by its name', () => {
  const named = route
    .replace('name: Wall kick', 'name: Crate Vault')
    .replace(
      'techniques:\n  crate-vault',
      'techniques:\n  hop: { name: Pendulum skip, difficulty: 3, saves: 1 }\n  crate-vault',
    );

  test('is the one that is called so, in any capitals, beside a file or without', async () => {
    const desk = new Desk({ ...started, 'lanternfall.route.yaml': named });
    for (const argv of [
      ['Pendulum skip', '--landed'],
      ['pendulum  SKIP', 'lanternfall.route.yaml', '--missed'],
      ['lanternfall.practice.yaml', 'Pendulum skip', '--landed'],
      // From here on the target is remembered, and knows the name, too.
      ['Pendulum skip', '--landed'],
    ]) {
      const { code, out, err } = await desk.log(...argv);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(out).toMatch(/^Pendulum skip: /);
    }
    await desk.log('--end');
    expect(desk.text()).toMatch(/technique: hop, minutes: [^,]+, tape: lmll/);
  });

  test('that two have is refused, and both ids are named', async () => {
    const desk = new Desk({ ...started, 'lanternfall.route.yaml': named });
    const { code, out, err } = await desk.log('Crate vault', '--landed', '3', '--tries', '4');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    // "Crate vault" is what one is called; the id of that one is no name of the other.
    expect(err).toBe(
      'Several techniques are called Crate vault: crate-vault and wall-kick. Write the id of the one that is meant. Nothing was logged.\n',
    );
    expect((await desk.log('crate-vault', '--landed', '3', '--tries', '4')).code).toBe(0);
  });

  test('that none has is refused with the nearest, and a mistyped file is no name', async () => {
    const desk = new Desk({ ...started, 'lanternfall.route.yaml': named });
    expect((await desk.log('Pendulm skip', '--landed')).err).toBe(
      'The route has no technique Pendulm skip. Did you mean hop? Nothing was logged.\n',
    );
    expect((await desk.log('lanternfal.route.yaml', '--landed')).err).toContain('lanternfal.route.yaml');
    expect((await desk.log('lanternfal.route.yaml', '--landed')).err).not.toContain('technique');
  });
});

test('a hint names a file in the quotes that a shell needs', async () => {
  const desk = new Desk({
    "it's a/one.route.yaml": route,
    'two.route.yaml': route,
  });
  const { err } = await desk.log('crate-vault', '--start');
  expect(err).toContain(String.raw`Name one: routewright log 'it'\''s a/one.route.yaml'`);
});

test('other commands take names, too', async () => {
  const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
  const answer = async (...argv: string[]) => (await routewright(folder, argv)).out;
  expect(await answer('rank', '--all', '--explain', 'Crate vault')).toBe(
    await answer('rank', '--all', '--explain', 'crate-vault'),
  );
  expect(await answer('odds', '--with', 'Crate vault')).toBe(await answer('odds', '--with', 'crate-vault'));
  const { code, err } = await routewright(folder, ['rank', '--explain', 'Crate valut']);
  expect({ code, err }).toMatchObject({
    code: 2,
    err: expect.stringContaining('Did you mean crate-vault?') as string,
  });
});

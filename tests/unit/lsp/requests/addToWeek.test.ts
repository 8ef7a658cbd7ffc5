import { describe, expect, it } from 'vitest';
import { addToWeekHandler } from '../../../../server/src/lsp/requests/addToWeek.ts';
import type { AddToWeekParams } from '../../../../server/src/protocol/messages/week.ts';
import { edited, harborRoute, openEditor, uriOf } from '../editor.ts';

/** What the week file is after something was added to it; undefined where nothing was. */
async function added(what: AddToWeekParams['what'], text: string, week?: string) {
  const files = { 'a.route.yaml': harborRoute, ...(week !== undefined && { 'a.week.yaml': week }) };
  const { services } = await openEditor(files, { open: Object.keys(files) });
  const params = { uri: uriOf('a.route.yaml'), what, text };
  const { edit, message } = await addToWeekHandler(services)(params);
  return { message, create: edit?.create, text: edit && edited(week ?? '', [...edit.changes]) };
}

const everyDay = 'days: { mon: 60, tue: 60, wed: 60, thu: 60, fri: 60, sat: 60, sun: 60 }';

describe('minutes of practice', () => {
  it('go into a week file that is created for them', async () => {
    expect(await added('minutes', ' 60 ')).toEqual({
      create: true,
      text: `route: a.route.yaml\n${everyDay}\n`,
      message:
        'There is no week file for this route yet. a.week.yaml is created: 60 minutes of practice on each day; change the days there.',
    });
  });

  it.each([
    [
      'none',
      'route: a.route.yaml\nblock: 25 # mine\n',
      `route: a.route.yaml\n${everyDay}\nblock: 25 # mine\n`,
    ],
    [
      'zeros',
      'route: a.route.yaml\ndays:\n  wed: 0 # for now\n  sat: 0\n',
      'route: a.route.yaml\ndays:\n  wed: 60 # for now\n  sat: 60\n  mon: 60\n  tue: 60\n  thu: 60\n  fri: 60\n  sun: 60\n',
    ],
  ])('go into the week file where it has %s, and nothing else changes', async (_, before, after) => {
    expect((await added('minutes', '60', before)).text).toBe(after);
  });

  it.each(['', '0', 'an hour', '1441', '60.5'])('are not %j', async (text) => {
    const { message, text: after } = await added('minutes', text);
    expect(after).toBeUndefined();
    expect(message).toMatch(/^Minutes are a whole number such as 60/);
  });
});

describe('a target', () => {
  it('goes below the route of the week file', async () => {
    const { text, message } = await added('target', '41:30', 'route: a.route.yaml\npin: [lamp-hop]\n');
    expect(text).toBe('route: a.route.yaml\ntarget: 41:30\npin: [lamp-hop]\n');
    expect(message).toBe('In a.week.yaml: 41:30 is the time to beat.');
  });

  it('in seconds stays a text, as the file wants it', async () => {
    expect((await added('target', '215', 'route: a.route.yaml\n')).text).toBe(
      'route: a.route.yaml\ntarget: "215"\n',
    );
  });

  it.each(['', 'soon', '3:99'])('is not %j', async (written) => {
    const { message, text } = await added('target', written);
    expect(text).toBeUndefined();
    expect(message).toMatch(/^A target is a time such as 41:30/);
  });

  it('that cannot be added safely is not added', async () => {
    const { message, text } = await added('target', '41:30', 'route: a.route.yaml\ntarget: soon\n');
    expect(text).toBeUndefined();
    expect(message).toContain('Write target: 41:30 by hand');
  });
});

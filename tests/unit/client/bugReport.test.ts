import { describe, expect, it } from 'vitest';
import { redactLogEntry } from '../../../client/src/server/redact.ts';
import { countedBy, differingSettings } from '../../../client/src/server/reportParts.ts';

describe('a log entry, made fit to be shown', () => {
  it('keeps the work, the kind of error and the places in our own bundles', () => {
    const entry = [
      "Ranking: TypeError: Cannot read properties of undefined (reading 'crate-vault')",
      '    at landed (/home/someone/.vscode/extensions/routewright-0.1.0/dist/server.cjs:120:33)',
      '    at async Boundary.request (C:\\Users\\Someone\\dist\\server.cjs:7:1)',
      '    at /home/someone/secret/game.route.yaml:3:1',
      '    at process.processTicksAndRejections (node:internal/process/task_queues:95:5)',
    ].join('\n');
    expect(redactLogEntry(entry)).toBe(
      [
        'Ranking: TypeError: Cannot read properties of undefined',
        '    at landed server.cjs:120:33',
        '    at Boundary.request server.cjs:7:1',
        '    at process.processTicksAndRejections node:internal/process/task_queues:95:5',
      ].join('\n'),
    );
  });

  it.each([
    ['Hover: Error: There is no technique harbor-skip in /home/someone/a.route.yaml', 'Hover: Error: …'],
    ['file:///home/someone/my%20secret.route.yaml could not be read', '…'],
    ['My Secret Game any% was opened', '…'],
    ['The server ended by itself. It is started again.', 'The server ended by itself: …'],
    ['RangeError: Maximum call stack size exceeded', 'RangeError: Maximum call stack size exceeded'],
    ['Practice got no answer.', 'Practice got no answer'],
    ['My secret game: opened', '…'],
    ['SyntaxError: Unexpected token "harbor"', 'SyntaxError: …'],
    ['', '…'],
  ])('of %j leaves %j', (entry, left) => {
    expect(redactLogEntry(entry)).toBe(left);
  });

  it('lets no line through that it does not know', () => {
    const entry = 'An edit: Error: x\ngame: My secret game\n  at nobody\nsegments:\n\tat (server.cjs)';
    expect(redactLogEntry(entry)).toBe('An edit: Error: …');
  });
});

describe('the settings that differ', () => {
  const shapes = {
    'a.flag': { type: 'boolean', default: false },
    'a.choice': { type: 'string', default: 'off', enum: ['off', 'on'] },
    'a.date': { type: 'string', default: '', pattern: '^([0-9]{4}-[0-9]{2}-[0-9]{2})?$' },
    'a.path': { type: 'string', default: '' },
    'a.rules': {
      type: 'object',
      default: {},
      propertyNames: { enum: ['unknown-key'] },
      additionalProperties: { enum: ['off', 'hint'] },
    },
  };
  const lines = (values: Record<string, unknown>) => differingSettings(shapes, (name) => values[name]);

  it('are shown only as far as the manifest says all that they can be', () => {
    const rules = { 'unknown-key': 'off', 'my-secret': 'off' };
    expect(
      lines({
        'a.flag': true,
        'a.choice': 'on',
        'a.date': '2026-10-05',
        'a.path': '/home/me',
        'a.rules': rules,
      }),
    ).toEqual([
      'a.flag: true',
      'a.choice: on',
      'a.date: 2026-10-05',
      'a.path: set',
      'a.rules: unknown-key=off, an unknown entry',
    ]);
    expect(lines({ 'a.choice': 'my secret', 'a.date': 'soon' })).toEqual(['a.choice: set', 'a.date: set']);
  });

  it('are none where everything is as usual', () => {
    expect(lines({ 'a.flag': false, 'a.rules': {} })).toEqual([]);
  });
});

describe('counts', () => {
  it('go by number, then by name', () => {
    expect(countedBy(['b', 'a', 'b', 'c', 'a'], (one) => one)).toBe('2 a, 2 b, 1 c');
    expect(countedBy([], String)).toBe('none');
  });
});

import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { root } from './packages.ts';

describe('SECURITY.md', () => {
  const rows = readFileSync(join(root, 'SECURITY.md'), 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('|') && !/^\| (Threat|-+) /.test(line));

  it('names for every threat a test that there is', () => {
    expect(rows.length).toBeGreaterThan(15);
    for (const row of rows) {
      const [, path = ''] = /`(tests\/[^`]+)` *\|$/.exec(row) ?? [];
      expect(path, row).toMatch(/\.test\.ts$/);
      expect(existsSync(join(root, path)), path).toBe(true);
      expect(readFileSync(join(root, path), 'utf8'), path).toMatch(/\b(it|test)(\.each)?\(/);
    }
  });
});

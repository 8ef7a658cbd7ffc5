import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, it } from 'mocha';
import type { Locator, Page } from 'playwright-core';
import { goTo, openFile } from '../host/workbench.ts';
import { lineWith, openSample, type OpenSample } from './sample.ts';

const LIMIT_MS = 40_000;
const LOG = 'lanternfall.practice.yaml';
const files = {
  [LOG]:
    'route: lanternfall.route.yaml\nsessions:\n  - start: 2026-11-05T19:30\n    blocks:\n' +
    '      - { technique: crate-vault, minutes: 25, landed: [12, 40] }\n',
};

describe('hints in logs', () => {
  it('show how often a block landed', async () => {
    const sample = await openSample({ files });
    try {
      await openFile(sample.page, LOG);
      await lineWith(sample.page, 'crate-vault').filter({ hasText: /30\s%/ }).waitFor({ timeout: LIMIT_MS });
    } finally {
      await sample.close();
    }
  });

  it('are not there where the setting says so', async () => {
    const sample = await openSample({ files, settings: { 'routewright.logHints': false } });
    const { page } = sample;
    try {
      // The hints of the week file come from the same server, so it has answered by then.
      await openFile(page, 'lanternfall.week.yaml');
      await page
        .locator('.view-line', { hasText: /\d\s?min/ })
        .first()
        .waitFor({ timeout: LIMIT_MS });
      await openFile(page, LOG);
      const block = lineWith(page, 'crate-vault');
      await block.waitFor();
      await page.waitForTimeout(1500);
      assert.doesNotMatch(await block.innerText(), /30\s%/);
    } finally {
      await sample.close();
    }
  });
});

describe('lenses and hints of a route', () => {
  const route = 'lanternfall.route.yaml';
  const lenses = (page: Page): Locator => page.locator('.codelens-decoration');
  const rate = /lands\s[<>]?\d+\s%/;
  const technique = '  crate-vault:';

  /** Opens the route where the techniques begin. */
  async function openTechniques({ page, folder }: OpenSample): Promise<void> {
    const lines = (await readFile(join(folder, route), 'utf8')).split('\n');
    await openFile(page, route);
    await goTo(page, lines.findIndex((line) => line.startsWith(technique)) + 1);
  }

  it('show no number twice: the landing rate stands between the words, not above them', async () => {
    const sample = await openSample();
    const { page } = sample;
    try {
      await openTechniques(sample);
      await lineWith(page, technique).filter({ hasText: rate }).waitFor({ timeout: LIMIT_MS });
      await lenses(page).filter({ hasText: 'In the run · ' }).first().waitFor({ timeout: LIMIT_MS });
      for (const title of await lenses(page).allInnerTexts()) assert.doesNotMatch(title, rate);
    } finally {
      await sample.close();
    }
  });

  it('move it to the lens where hints are turned off', async () => {
    const sample = await openSample({ settings: { 'routewright.routeHints': false } });
    const { page } = sample;
    try {
      await openTechniques(sample);
      await lenses(page).filter({ hasText: rate }).first().waitFor({ timeout: LIMIT_MS });
      assert.doesNotMatch(await lineWith(page, technique).innerText(), rate);
    } finally {
      await sample.close();
    }
  });

  it('are gone where lenses are turned off', async () => {
    const sample = await openSample({ settings: { 'routewright.lenses': false } });
    const { page } = sample;
    try {
      await openTechniques(sample);
      await lineWith(page, technique).filter({ hasText: rate }).waitFor({ timeout: LIMIT_MS });
      assert.equal(await lenses(page).count(), 0);
    } finally {
      await sample.close();
    }
  });
});

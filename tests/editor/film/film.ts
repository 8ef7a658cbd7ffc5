/** What the stories of the film have in common: window sizes, and one story in one theme and size. */
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Frame, Page } from 'playwright-core';
import { accessViolations } from '../../helpers/accessViolations.ts';
import { screenshot, type WorkbenchOptions } from '../host/workbench.ts';
import { ROOT } from '../person/sample.ts';
import { pictureSettings, pictureThemes, type PictureTheme } from '../pictures.ts';

/** The folder of the pictures. */
export const OUTPUT = join(ROOT, 'tests', 'output', 'film');

/** Milliseconds after which a step has failed. */
export const LIMIT_MS = 240_000;

/** Windows in which a page beside the text is about 600, 300 and, enlarged to the double, 300 pixels wide. */
export const SIZES = {
  wide: { viewport: { width: 1500, height: 1000 }, zoom: 1 },
  narrow: { viewport: { width: 960, height: 1000 }, zoom: 1 },
  'zoom-200': { viewport: { width: 960, height: 640 }, zoom: 2 },
} as const;
export type Size = keyof typeof SIZES;

/** How the editor is opened for a theme and a size. */
export function look(
  theme: PictureTheme,
  size: Size,
): Required<Pick<WorkbenchOptions, 'colorTheme' | 'viewport' | 'zoom' | 'settings'>> {
  return { colorTheme: pictureThemes[theme], settings: pictureSettings, ...SIZES[size] };
}

/** One story in one theme and size: takes pictures in their order. */
export class Film {
  readonly pictures: string[] = [];
  readonly findings: string[] = [];
  private readonly page: Page;
  private readonly name: string;

  constructor(page: Page, name: string) {
    this.page = page;
    this.name = name;
    // Those of an earlier film would stand between the new ones, where it had other steps.
    for (const file of readdirSync(OUTPUT)) if (file.startsWith(`${name}-`)) rmSync(join(OUTPUT, file));
  }

  /** @param frame the page of the extension that is to be seen, which is checked, too */
  async take(what: string, frame?: Frame): Promise<void> {
    // Where nothing changes its look under the pointer.
    const { height } = this.page.viewportSize()!;
    await this.page.mouse.move(24, height / 2);
    const number = String(this.pictures.length + 1).padStart(2, '0');
    const file = `${this.name}-${number}-${what}.png`;
    await screenshot(this.page, join(OUTPUT, file));
    this.pictures.push(file);
    process.stdout.write(`${file}\n`);
    if (frame) this.findings.push(...(await accessViolations(frame)).map((one) => `${file}: ${one}`));
  }
}

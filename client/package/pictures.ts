/**
 * Makes the pictures that the extension's page in the editor shows: `npx tsx client/package/pictures.ts`. The icon is
 * drawn from icon.svg; the picture of the editor is the README's own, packed smaller.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { ensurePrograms } from '../../tests/editor/host/programs.ts';

const media = join(import.meta.dirname, '../media');
/** The editor's own title, activities and files, which the picture does without. */
const tools = [0.235, 0.045] as const;
const iconSize = 128; // pixels, what the marketplace asks for

/**
 * Draws an image file on a canvas and gives it back as a file of another type.
 *
 * @param to.from where the picture begins, as fractions of width and height: what lies before is cut off
 */
async function redrawn(
  page: Page,
  file: string,
  type: string,
  to: { readonly width?: number; readonly quality?: number; readonly from?: readonly [x: number, y: number] },
): Promise<Buffer> {
  const kind = file.endsWith('.svg') ? 'image/svg+xml' : 'image/png';
  const source = `data:${kind};base64,${(await readFile(join(media, file))).toString('base64')}`;
  const [left, top] = to.from ?? [0, 0];
  const address = await page.evaluate<string>(
    `(async () => {
      const image = new Image();
      image.src = ${JSON.stringify(source)};
      await image.decode();
      const [x, y] = [image.naturalWidth * ${left}, image.naturalHeight * ${top}];
      const [wide, high] = [image.naturalWidth - x, image.naturalHeight - y];
      const width = ${to.width ?? 'wide'};
      const height = Math.round((high * width) / wide);
      const canvas = Object.assign(document.createElement('canvas'), { width, height });
      canvas.getContext('2d').drawImage(image, x, y, wide, high, 0, 0, width, height);
      return canvas.toDataURL(${JSON.stringify(type)}, ${to.quality ?? 1});
    })()`,
  );
  return Buffer.from(address.slice(address.indexOf(',') + 1), 'base64');
}

const programs = await ensurePrograms({
  compilers: false,
  say: (sentence) => process.stderr.write(`${sentence}\n`),
});
const browser = await chromium.launch({ executablePath: programs.chromium, chromiumSandbox: false });
try {
  const page = await browser.newPage();
  await writeFile(join(media, 'icon.png'), await redrawn(page, 'icon.svg', 'image/png', { width: iconSize }));
  await writeFile(
    join(media, 'panel-week.webp'),
    await redrawn(page, 'panel-week.png', 'image/webp', { width: 860, quality: 0.72, from: tools }),
  );
} finally {
  await browser.close();
}

/** Draws the extension's icon from icon.svg: `npx tsx client/package/icon.ts`. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { ensurePrograms } from '../../tests/editor/host/programs.ts';

const media = join(import.meta.dirname, '../media');
const size = 128; // pixels, what the marketplace asks for

const programs = await ensurePrograms({
  compilers: false,
  say: (sentence) => process.stderr.write(`${sentence}\n`),
});
const browser = await chromium.launch({ executablePath: programs.chromium, chromiumSandbox: false });
try {
  const page = await browser.newPage();
  const source = `data:image/svg+xml;base64,${(await readFile(join(media, 'icon.svg'))).toString('base64')}`;
  const address = await page.evaluate<string>(
    `(async () => {
      const image = new Image();
      image.src = ${JSON.stringify(source)};
      await image.decode();
      const canvas = Object.assign(document.createElement('canvas'), { width: ${size}, height: ${size} });
      canvas.getContext('2d').drawImage(image, 0, 0, ${size}, ${size});
      return canvas.toDataURL('image/png');
    })()`,
  );
  await writeFile(join(media, 'icon.png'), Buffer.from(address.slice(address.indexOf(',') + 1), 'base64'));
} finally {
  await browser.close();
}

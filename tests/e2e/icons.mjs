// Renders the icons that systems want as pixels from our own drawings: node tests/e2e/icons.mjs FOLDER
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { launch } from './page.mjs';

const ICONS = [['icon', 192], ['icon', 512], ['maskable', 512]];

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node tests/e2e/icons.mjs FOLDER');
  process.exit(2);
}
const browser = await launch();
for (const [name, size] of ICONS) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const drawing = (await readFile(join(folder, `${name}.svg`))).toString('base64');
  await page.setContent(`<body style="margin:0"><img src="data:image/svg+xml;base64,${drawing}" width="${size}" height="${size}" style="display:block">`);
  await page.locator('img').evaluate((image) => image.decode());
  await writeFile(join(folder, `${name}-${size}.png`), await page.screenshot({ omitBackground: true }));
  await page.close();
}
await browser.close();

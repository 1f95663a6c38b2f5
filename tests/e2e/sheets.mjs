// Prints sheets of four items as PDF, to be looked at: node tests/e2e/sheets.mjs FOLDER
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { clearItem, leaveItem, seeded } from './core.mjs';
import { dealt, open } from './page.mjs';

const PAPERS = ['a4', 'letter'];
const NOTE = 'Stun with a little draw; the trap is the side pocket.\nStop short of the middle.';

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node tests/e2e/sheets.mjs FOLDER');
  process.exit(2);
}
await mkdir(folder, { recursive: true });
const items = [seeded(3, 5).question.item, leaveItem(2, 5).item, clearItem({ balls: 9 }).item, seeded(5, 6).question.item];
const { page, close } = await open({ colorScheme: 'dark' });
await dealt(page);
await page.evaluate(
  async (pages) => (await import(new URL('js/paper/print.js', location.href).href)).openPaper(pages),
  items.map((item, k) => ({ title: `Coming off the foot rail, ${k + 1}`, note: NOTE, item })),
);
const sheets = page.getByRole('dialog', { name: 'Sheets to print' });
for (const paper of PAPERS) {
  await sheets.getByLabel('Paper').selectOption(paper);
  for (const among of [1, 2, 4]) {
    await sheets.getByLabel('Items on a sheet').selectOption(String(among));
    await sheets.getByRole('status').filter({ hasText: `${4 / among} sheet` }).waitFor();
    await page.pdf({ path: join(folder, `${paper}-${among}.pdf`), preferCSSPageSize: true });
    console.log(`${paper}-${among}.pdf`);
  }
}
await close();

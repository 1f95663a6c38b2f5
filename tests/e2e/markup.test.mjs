// Nothing from a link, a file or the browser's storage reaches the page as markup, or runs.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { loggedLines, seeded, setLink } from './core.mjs';
import { button, dealt, notice, open } from './page.mjs';

const EVIL = '"><img src=x onerror="globalThis.ran=1"><script>globalThis.ran=1</script><svg onload="globalThis.ran=1">';
/** Short enough for a title. */
const SHORT = '<img src=x onerror="globalThis.ran=1">';

/** What of the markup came to be. */
const came = (page) =>
  page.evaluate(() => ({
    ran: globalThis.ran ?? 0,
    made: [...document.querySelectorAll('img, body script, [onerror], [onload], iframe, [href^="javascript"]')].map((one) => one.outerHTML),
  }));
const NOTHING = { ran: 0, made: [] };

test('links to every part', async () => {
  const { page, url, another, close } = await open();
  await dealt(page);
  for (const name of ['', 'read=', 'read=2.', 'leave=2.', 'clear=2.', 'bench=', 'eye=', 'set=', 'set=1.', 'log=']) {
    for (const text of [EVIL, encodeURIComponent(EVIL)]) {
      const other = await another(`${url}#${name}${text}`);
      await other.locator('#sheet').waitFor({ timeout: 60_000 });
      await other.waitForTimeout(300);
      assert.deepEqual(await came(other), NOTHING, `#${name}${text}`);
      await other.close();
    }
  }
  await close();
});

test('what the browser had kept', async () => {
  const entry = { link: EVIL, item: { ...seeded(1, 3).question.item, kind: EVIL }, points: [{ x: EVIL, y: 1, rail: EVIL }], sealed: EVIL, played: true };
  const kept = JSON.stringify({ version: 1, level: EVIL, entries: [entry] });
  const { page, context, url, close } = await open();
  await dealt(page);
  await page.goto('about:blank');
  for (const part of ['read', 'leave', 'clear', 'eye', 'bench', 'sets', 'log']) {
    const other = await context.newPage();
    await other.addInitScript(
      ([name, text, evil]) => {
        for (const key of ['read', 'leave', 'clear', 'eye', 'bench', 'sets']) localStorage.setItem(`leaveline.${key}`, text);
        for (const key of ['hand', 'guide', 'letters', 'part']) localStorage.setItem(`leaveline.${key}`, evil);
        if (name === 'sets') localStorage.setItem('leaveline.taking', JSON.stringify({ id: evil, title: evil, at: 0, marks: [evil] }));
      },
      [part, kept, EVIL],
    );
    await other.goto(`${url}#${part}`);
    await other.locator('#sheet').waitFor({ timeout: 60_000 });
    await other.waitForTimeout(500);
    assert.deepEqual(await came(other), NOTHING, part);
    await other.close();
  }
  await close();
});

test('titles and notes of a set, by a link, in its lists, on the sheets and before a class', async () => {
  const entry = { title: SHORT, note: EVIL, item: seeded(1, 3).question.item };
  const set = { version: 1, kind: 'set', title: SHORT, note: EVIL, pass: { mark: 60, need: 1 }, entries: [entry] };
  const { page, close } = await open({ hash: setLink(set) });
  await page.locator('#sets-name').filter({ hasText: SHORT }).waitFor({ timeout: 60_000 });
  assert.deepEqual(await came(page), NOTHING, 'opened');
  await page.keyboard.press('r');
  await page.locator('#sets-note').filter({ hasText: EVIL }).waitFor();
  assert.deepEqual(await came(page), NOTHING, 'revealed');
  await button(page, 'Share').click();
  await button(page, 'Print…').click();
  await page.getByRole('dialog', { name: 'Sheets to print' }).getByText(/^1 sheet\./).waitFor();
  assert.deepEqual(await came(page), NOTHING, 'on paper');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await page.keyboard.press('f');
  await page.locator('#sets-show .show-count').filter({ hasText: '1 of 1' }).waitFor();
  await page.keyboard.press(' ');
  assert.deepEqual(await came(page), NOTHING, 'before a class');
  await close();
});

test('a file for the Log whose lines hold markup', async () => {
  const [line] = loggedLines(1);
  const spoilt = [line.replace(/"id":"[^"]*"/, `"id":${JSON.stringify(EVIL)}`), JSON.stringify({ [EVIL]: EVIL }), EVIL, line];
  const { page, close } = await open({ hash: '#log' });
  await page.locator('#log-hint').filter({ hasText: 'Every call that you make' }).waitFor({ timeout: 60_000 });
  await page.setInputFiles('#log-file', { name: `${SHORT}.jsonl`, mimeType: 'application/jsonl', buffer: Buffer.from(spoilt.join('\n')) });
  const dialog = page.locator('#log-import-dialog');
  await dialog.getByText('came in').waitFor();
  assert.deepEqual(await came(page), NOTHING, 'brought in');
  await dialog.getByRole('button', { name: 'Done' }).click();
  await page.locator('#log-view').selectOption('list');
  await page.locator('#log-list > li').first().waitFor();
  assert.deepEqual(await came(page), NOTHING, 'listed');
  assert.ok(await notice(page).isHidden(), 'and nothing is wrong');
  await close();
});

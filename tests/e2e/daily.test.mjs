// The set of a day: found, taken, counted once, handed on, and the same for whoever opens its link.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PATH, button, draw, inaccessible, layout, notice, open, pasted, play } from './page.mjs';

const DAY = '2026-11-20';
const LINK = `#set=day.${DAY}.1`;
const lines = (page) => page.getByRole('listbox', { name: 'The items of the set' }).getByRole('option');
const named = (page, title) => page.locator('#sets-name').filter({ hasText: title }).waitFor();
const count = (page, text) => page.locator('#strip .strip-at').filter({ hasText: text }).waitFor();
const hint = (page, text) => page.locator('#sets-hint').filter({ hasText: text }).waitFor();
const kept = (page) => page.evaluate(() => JSON.parse(localStorage.getItem('leaveline.days') ?? '{}').days ?? {});
const told = async (page) => {
  await lines(page).nth(9).waitFor();
  return lines(page).locator('.label').allTextContents();
};

for (const [name, options] of /** @type {const} */ ([
  ['on a desktop', { viewport: { width: 1366, height: 768 } }],
  ['on a phone', { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }],
])) {
  test(`${name} the set of a day is taken, counts once, and its result tells nothing of the items`, async () => {
    // Nine of the ten were played before.
    const before = [null, 80, 12.4, 100, 55, 60, 73, 22, 90, 41];
    const { page, url, another, close } = await open({ hash: LINK, ...options, permissions: ['clipboard-write'] });
    await named(page, 'The set of 20 November 2026');
    const names = await told(page);
    await page.evaluate(([day, marks]) => localStorage.setItem('leaveline.days', JSON.stringify({ version: 1, days: { [day]: marks } })), [DAY, before]);
    await page.reload();
    await hint(page, /^So far 59 of 100 in 9 of 10: 6 passed, \d+ to pass\.$/);
    assert.equal(await page.locator('#sets-title-best').textContent(), '9 of 10 played');
    assert.equal(await page.locator('#sets-set option:checked').textContent(), '20 Nov 2026');
    await button(page, 'Go on').click();
    await count(page, '1 of 10');
    await page.locator('#read-drawing').waitFor();
    const first = await layout(page);
    await draw(page, PATH);
    await play(page);
    await count(page, /^1 of 10 · \d+$/);
    const mark = Number((await page.locator('#strip .strip-at').textContent()).match(/\d+$/)[0]);
    assert.equal(Math.round((await kept(page))[DAY][0]), mark, 'it is kept');
    await page.locator('#strip .strip-count').click();
    await named(page, 'The set of 20 November 2026');
    await button(page, 'Again').waitFor();
    await hint(page, /What counts for this day: \d+ of 100\.$/);
    assert.deepEqual(await inaccessible(page), []);

    await button(page, 'Share').click();
    const dialog = page.getByRole('dialog', { name: 'Share this set' });
    const text = dialog.getByLabel('Your result');
    await text.waitFor();
    await dialog.getByText('Copied.').waitFor();
    const address = `${url}${LINK}`;
    const row = [mark, 80, 12, 100, 55, 60, 73, 22, 90, 41];
    const score = Math.round(row.reduce((sum, one) => sum + one, 0) / 10);
    const passed = row.filter((one) => one >= 50).length;
    const expected = `Leaveline, the set of 20 November 2026\n${score} of 100, ${passed} of 10 passed\n${row.join(' · ')}\n${address}`;
    assert.equal(await text.inputValue(), expected);
    assert.equal(await pasted(page), expected, 'and on the clipboard');
    assert.deepEqual(await inaccessible(page), []);
    await dialog.getByRole('checkbox').uncheck();
    await dialog.getByLabel('Link to this set').waitFor();
    assert.equal(await dialog.getByLabel('Link to this set').inputValue(), address);
    await dialog.getByRole('button', { name: 'Done' }).click();

    // For practice: the marks are new, and what counts stays.
    const counts = await kept(page);
    await button(page, 'Again').click();
    await count(page, /^1 of 10$/);
    await page.locator('#read-drawing').waitFor();
    await draw(page, PATH.slice(1));
    await play(page);
    await count(page, /^1 of 10 · \d+$/);
    assert.deepEqual(await kept(page), counts);

    // A friend has neither the marks nor the paths, but the same items.
    const friend = await another(`${url}#bench`);
    await friend.locator('#bench-drawing').waitFor();
    await friend.evaluate(() => localStorage.clear());
    await friend.goto('about:blank');
    await friend.goto(address);
    assert.deepEqual(await told(friend), names);
    assert.equal(await friend.locator('#sets-drawing .real').count(), 0);
    await button(friend, 'Start').click();
    await count(friend, /^1 of 10$/);
    await friend.locator('#read-drawing').waitFor();
    assert.deepEqual(await layout(friend), first);
    await close();
  });
}

test('a newcomer finds it in Sets and in the Log, without a network too; no day is open before it has begun', async () => {
  const { page, context, url, close, errors } = await open({ hash: '#sets' });
  await lines(page).first().waitFor();
  await context.setOffline(true);
  await button(page, 'Today').click();
  await named(page, /^The set of \d+ [A-Z][a-z]+ \d{4}$/);
  assert.equal(await page.locator('#sets-set option:checked').textContent(), 'Today’s set');
  assert.match(page.url(), /#set=day\.\d{4}-\d\d-\d\d\.1$/);
  const names = await told(page);
  assert.equal(names.length, 10);
  await context.setOffline(false);
  // Other parts are fetched ahead, which fails then and does no harm.
  errors.splice(0, errors.length, ...errors.filter((error) => !error.includes('ERR_INTERNET_DISCONNECTED')));
  await page.goto(`${url}#log`);
  await button(page, 'Today’s set').click();
  assert.deepEqual(await told(page), names);
  await page.locator('#sets-set').selectOption({ index: 2 });
  await page.locator('#sets-set').selectOption('daily');
  await named(page, /^The set of/);
  await page.evaluate(() => (location.hash = '#set=day.9999-12-31.1'));
  await notice(page).filter({ hasText: 'has not begun yet: days begin at midnight UTC' }).waitFor();
  await close();
});

test('the set of a day fits every screen', async () => {
  for (const [width, height] of [[1440, 900], [390, 844], [844, 390]]) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, close } = await open({ hash: LINK, viewport: { width, height }, colorScheme, hasTouch: width < 1000 });
      await told(page);
      const [high, wide] = await page.evaluate(() => [document.documentElement.scrollHeight - innerHeight, document.documentElement.scrollWidth - innerWidth]);
      assert.ok(high <= 0 && wide <= 0, `${width} x ${height} ${colorScheme}: ${high} px too high, ${wide} px too wide`);
      assert.deepEqual(await inaccessible(page), []);
      await close();
    }
  }
});

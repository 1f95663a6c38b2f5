// A link to this very item: shared, opened elsewhere, broken on its way.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { button, call, dealt, draw, grade, handles, layout, notice, open, pasted, play, stage } from './page.mjs';

/** Draws and plays an item, and gives the link that carries the call, as Share puts it. */
async function share(page, choice) {
  await button(page, 'Share').click();
  const dialog = page.getByRole('dialog', { name: 'Share this item' });
  await dialog.getByRole('radio', { name: choice }).check();
  await dialog.getByRole('status').filter({ hasText: /cop/i }).waitFor();
  const link = await dialog.getByRole('textbox', { name: 'Link to this item' }).inputValue();
  await dialog.getByRole('button', { name: 'Done' }).click();
  return link;
}

test('a link with a call opens the same item, and reveals the call after the own one was played', async () => {
  const place = await stage();
  const sender = await open({ place, permissions: ['clipboard-write'] });
  await dealt(sender.page);
  const item = await layout(sender.page);
  await draw(sender.page);
  await play(sender.page);
  const mark = await sender.page.locator('#read-mark').textContent();
  const link = await share(sender.page, 'with my call');
  assert.equal(await pasted(sender.page), link, 'it was copied at once');
  await sender.close();

  const friend = await open({ place, hash: new URL(link).hash });
  await dealt(friend.page);
  assert.deepEqual(await layout(friend.page), item);
  assert.equal(await friend.page.locator('path.sender').count(), 0, 'the call is sealed');
  await draw(friend.page, [[0.8, 1.27], [0.5, 0.6]]);
  await friend.page.reload();
  await handles(friend.page).nth(1).waitFor();
  await play(friend.page);
  await friend.page.locator('path.sender').waitFor();
  await button(friend.page, `Theirs ${mark}`).click();
  await friend.page.waitForFunction((wanted) => document.getElementById('read-mark').textContent === wanted, mark);
  await friend.close();
  await place.close();
});

test('a link without a call carries the item alone', async () => {
  const place = await stage();
  const sender = await open({ place });
  await dealt(sender.page);
  await draw(sender.page);
  const item = await layout(sender.page);
  const link = await share(sender.page, 'without a call');
  await sender.close();
  const friend = await open({ place, hash: new URL(link).hash });
  await dealt(friend.page);
  assert.deepEqual(await layout(friend.page), item);
  await draw(friend.page);
  await play(friend.page);
  assert.ok(await friend.page.locator('#read-whose').isHidden());
  await friend.close();
  await place.close();
});

test('where nothing can be copied the link stands there to be taken', async () => {
  const { page, close } = await open({ init: () => Object.defineProperty(navigator, 'clipboard', { value: undefined }) });
  await dealt(page);
  await button(page, 'Share').click();
  const dialog = page.getByRole('dialog', { name: 'Share this item' });
  await dialog.getByRole('status').filter({ hasText: /by hand/ }).waitFor();
  const field = dialog.getByRole('textbox', { name: 'Link to this item' });
  const [whole, chosen] = await field.evaluate((input) => [input.value, input.value.slice(input.selectionStart, input.selectionEnd)]);
  assert.ok(whole.includes('#read=2.'), whole);
  assert.equal(chosen, whole, 'all of it is selected');
  assert.ok(await dialog.getByRole('radio', { name: 'with my call' }).isDisabled(), 'there is no call yet');
  await close();
});

test('broken links are refused in words, and the deal goes on', async () => {
  const place = await stage();
  const sender = await open({ place });
  await dealt(sender.page);
  await draw(sender.page);
  const link = new URL(await share(sender.page, 'with my call')).hash;
  await sender.close();
  const middle = Math.floor(link.length / 2);
  const broken = [
    link.slice(0, middle),
    link.slice(0, -1),
    link.slice(0, middle) + (link[middle] === 'A' ? 'B' : 'A') + link.slice(middle + 1),
    '#read=1.',
    '#read=9.abc.def',
    '#nonsense',
    '#%E0%A4%A',
    `#read=1.${'A'.repeat(200_000)}.x`,
  ];
  for (const hash of broken) {
    const { page, close } = await open({ place, hash });
    await notice(page).filter({ hasText: /This link cannot be opened: .{10,}/ }).waitFor();
    await dealt(page);
    await draw(page);
    await play(page);
    await close();
  }
  await place.close();
});

test('a link of a newer version is refused in words, and stays in the address for when that version is here', async () => {
  const hash = '#read=3.AAAA.alxZVQ';
  const { page, close } = await open({ hash });
  const wanted = 'This link cannot be opened: made by a newer version of this page: reload the page to get that version. Here is a fresh deal.';
  await notice(page).filter({ hasText: wanted }).waitFor();
  await dealt(page);
  await draw(page);
  assert.equal(await page.evaluate(() => location.hash), hash);
  await button(page, 'Deal').click();
  await page.waitForFunction((before) => location.hash !== before, hash);
  await page.goBack();
  await notice(page).filter({ hasText: wanted }).waitFor();
  await close();
});

test('a link of an older version opens and says so', async () => {
  const place = await stage();
  const { page: sender, close: leave } = await open({ place });
  await dealt(sender);
  const item = await layout(sender);
  const hash = new URL(await share(sender, 'without a call')).hash;
  await leave();
  // There is one version of the model only, so the core's reply is made that of a later one.
  const sentence = 'This item was made with version 1 of the model and is played with version 2.';
  await place.change('js/engine/worker.js', (text) =>
    text.replace('value: run(data.request)', 'value: later(run(data.request))').concat(`
      function later(value) {
        return value.question ? { ...value, question: { ...value.question, notice: '${sentence}' } } : value;
      }`),
  );
  const { page, close } = await open({ place, hash });
  await notice(page).filter({ hasText: sentence }).waitFor();
  await dealt(page);
  assert.deepEqual(await layout(page), item);
  await draw(page);
  await play(page);
  await close();
  await place.close();
});

test('a link pasted into the open page opens, and a broken one takes nothing away', async () => {
  const { page, close } = await open();
  await dealt(page);
  await draw(page);
  const [item, called] = [await layout(page), await call(page)];
  const good = new URL(await share(page, 'without a call')).hash;
  await button(page, 'Deal').click();
  await handles(page).nth(0).waitFor({ state: 'detached' });
  await page.evaluate((hash) => (location.hash = hash), good);
  await handles(page).nth(2).waitFor();
  assert.deepEqual(await layout(page), item);
  assert.deepEqual(await call(page), called, 'the same item still has its call');
  await page.evaluate(() => (location.hash = '#read=1.broken'));
  await notice(page).filter({ hasText: /cannot be opened/ }).waitFor();
  await page.waitForFunction(() => !document.querySelector('.handle'));
  await page.goBack();
  await handles(page).nth(2).waitFor();
  assert.deepEqual(await layout(page), item);
  assert.ok(await grade(page).isHidden());
  await close();
});

test('a link of version 1 opens, and is sent on as one of version 2', async () => {
  const kept = JSON.parse(await readFile(new URL('../golden/links-1.json', import.meta.url), 'utf8'));
  const { link } = kept.find(({ name }) => name === 'read of level 3');
  const { page, close } = await open({ hash: `#${link}` });
  await dealt(page);
  const item = await layout(page);
  const sent = new URL(await share(page, 'without a call')).hash;
  assert.match(sent, /^#read=2\./);
  assert.ok(sent.length < 80, `${sent} is short`);
  await page.evaluate((hash) => (location.hash = hash), sent);
  await page.waitForFunction((hash) => location.hash === hash, sent);
  assert.deepEqual(await layout(page), item);
  await close();
});

for (const part of ['read', 'leave', 'clear', 'bench']) {
  test(`how the balls of ${part} are set up is told from the share dialog, by keys alone`, async () => {
    const { page, close } = await open({ hash: `#${part}`, viewport: { width: 390, height: 844 } });
    await page.locator(`#${part}-table [role=img], #${part}-table [data-handle^="ball"]`).first().waitFor({ timeout: 120_000 });
    await button(page, 'Share').focus();
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog', { name: 'Share this item' });
    await dialog.getByRole('button', { name: 'Set up…' }).focus();
    await page.keyboard.press('Enter');
    const spots = page.getByRole('dialog', { name: 'Set up on a table' }).getByRole('listitem');
    await spots.first().waitFor();
    const words = await spots.allTextContents();
    assert.match(words.at(-1), /^Cue ball: .*(diamond|rail|nose line)/, 'the cue ball is set up last');
    for (const one of words) assert.match(one, /\d\.\d\d, \d\.\d\d diamonds · \d+\.\d, \d+\.\d cm/);
    const { width, right } = await spots.first().evaluate((one) => ({ width: innerWidth, right: one.getBoundingClientRect().right }));
    assert.ok(right <= width, 'nothing runs off a phone');
    await page.keyboard.press('Escape');
    assert.ok(await dialog.isVisible(), 'back to the share dialog');
    await page.waitForFunction(() => document.activeElement?.id === 'share-set-up');
    await close();
  });
}

// Sets: made, ordered, taken, shown to a class, handed on, and files that are partly bad.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { clearItem, leaveItem, seeded, setLink } from './core.mjs';
import { button, draw, grade, inaccessible, notice, open } from './page.mjs';

const READ = [seeded(1, 3), seeded(2, 5)];
const LEAVE = leaveItem(1, 3);
const entryOf = ({ question, item }, title, note = '') => ({ title, note, item: question?.item ?? item });
const SET = {
  version: 1, kind: 'set', title: 'Tuesday', note: 'For the third lesson.', pass: { mark: 60, need: 2 },
  entries: [entryOf(READ[0], 'First', 'Skill: look.\nTrap: <b>none</b>'), entryOf(LEAVE, 'Second'), entryOf(READ[1], '')],
};
const file = (set, name = 'set.json') => ({ name, mimeType: 'application/json', buffer: Buffer.from(typeof set === 'string' ? set : JSON.stringify(set)) });
const lines = (page) => page.getByRole('listbox', { name: 'The items of the set' }).getByRole('option');
const names = (page) => lines(page).locator('.label').allTextContents();
/** The page redraws in the frame after a change. @param {string[]} wanted */
async function listed(page, wanted, words) {
  const are = async () => JSON.stringify(await names(page)) === JSON.stringify(wanted);
  for (let k = 0; k < 60 && !(await are()); k += 1) await page.waitForTimeout(50);
  assert.deepEqual(await names(page), wanted, words);
}
const chosen = (page) => lines(page).evaluateAll((all) => all.findIndex((one) => one.getAttribute('aria-selected') === 'true'));
const strip = (page) => page.getByRole('group', { name: 'The set that is taken' });
const count = (page) => strip(page).locator('.strip-at');
const picture = (page) => page.locator('#sets-drawing').getByRole('img', { name: /^cue ball/i }).first();
const ready = async (page) => {
  await lines(page).first().waitFor();
  await picture(page).waitFor();
};

/** Takes a file in that is good throughout. */
async function take(page, set = SET) {
  await button(page, 'File…').click();
  await page.getByLabel('The file of a set').setInputFiles(file(set));
  await button(page, 'Add the set').click();
  await page.locator('#sets-name').filter({ hasText: set.title }).waitFor();
  await ready(page);
}

test('a ready-made set is there at once: its items are covered, then revealed', async () => {
  const { page, close } = await open({ hash: '#sets' });
  await ready(page);
  assert.equal(await lines(page).count(), 10);
  assert.equal(await page.title(), 'Leaveline: Sets');
  assert.equal(await page.locator('#sets-drawing .real').count(), 0, 'no path before it is asked for');
  assert.doesNotMatch(await page.locator('#sets-note').textContent(), /Trap/);
  await page.keyboard.press('r');
  await page.locator('#sets-drawing .real').waitFor();
  await page.locator('#sets-note').filter({ hasText: /^Skill: .*\nPath: .*\nTrap: / }).waitFor();
  await lines(page).nth(3).click();
  await page.waitForFunction(() => !document.querySelector('#sets-drawing .real'));
  assert.equal(await chosen(page), 3, 'and the next is covered');
  assert.ok(await page.locator('#sets-remove').isHidden(), 'what is ready-made stays as it is');
  const all = await page.locator('#sets-set optgroup[label="Ready-made"] option').allTextContents();
  assert.equal(all.length, 10);
  for (const label of all) {
    await page.locator('#sets-set').selectOption({ label });
    await page.locator('#sets-name').filter({ hasText: label }).waitFor();
    await ready(page);
    assert.equal(await lines(page).count(), 10, label);
  }
  assert.deepEqual(await inaccessible(page), []);
  await page.locator('#sets-set').selectOption('copy');
  await button(page, 'Remove the item').waitFor();
  await close();
});

test('an item is added from Share in its part; words are typed, and it is there after a reload', async () => {
  const { page, close } = await open({ hash: READ[0].hash });
  await page.getByRole('img', { name: /^cue ball/i }).first().waitFor();
  await button(page, 'Share').click();
  await button(page, 'Add to a set…').click();
  const dialog = page.getByRole('dialog', { name: 'Add to a set' });
  await dialog.getByLabel('Title of the new set').fill('My own');
  await dialog.getByLabel('Title of the item').fill('Thin <i>cut</i>');
  await dialog.getByLabel(/^Note/).fill('Skill: see it.\nTrap: none.');
  assert.deepEqual(await inaccessible(page), []);
  await dialog.getByRole('button', { name: 'Add', exact: true }).click();
  await notice(page).filter({ hasText: 'Added. Sets has it.' }).waitFor();
  await page.getByRole('link', { name: 'Sets' }).click();
  await ready(page);
  await listed(page, ['1. Thin <i>cut</i>'], 'what is typed is only ever text');
  await page.reload();
  await ready(page);
  await page.locator('#sets-name').filter({ hasText: 'My own' }).waitFor();
  await button(page, 'Type title and note of the item').click();
  await page.getByLabel(/^Title, seen/).fill('Thin cut');
  await button(page, 'Keep').click();
  await listed(page, ['1. Thin cut']);
  await button(page, 'The task: what is asked to pass, and the title of the set').click();
  const words = page.getByRole('dialog', { name: 'The set' });
  await words.getByLabel(/^An item is passed/).fill('101');
  await words.getByRole('button', { name: 'Keep' }).click();
  await words.getByText('Give a whole number from 1 to 100.').waitFor();
  await words.getByLabel(/^An item is passed/).fill('80');
  await words.getByLabel(/^Items that must/).fill('1');
  await words.getByRole('button', { name: 'Keep' }).click();
  await page.locator('#sets-pass').filter({ hasText: 'To pass: 80 points or more in 1 of 1.' }).waitFor();
  await close();
});

test('items are ordered by keys and by dragging, removed, and all of it is undone', async () => {
  const { page, close } = await open({ hash: '#sets' });
  await ready(page);
  await take(page);
  const third = (await names(page))[2].slice(3);
  const list = page.getByRole('listbox', { name: 'The items of the set' });
  await list.focus();
  await page.keyboard.press('Alt+ArrowDown');
  await listed(page, ['1. Second', '2. First', `3. ${third}`]);
  assert.equal(await chosen(page), 1, 'it stays chosen');
  await button(page, 'Move the item up').click();
  await listed(page, ['1. First', '2. Second', `3. ${third}`]);
  const [from, to] = [await lines(page).nth(0).locator('.grip').boundingBox(), await lines(page).nth(2).boundingBox()];
  await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
  await page.mouse.down();
  await page.mouse.move(to.x + 20, to.y + to.height / 2, { steps: 4 });
  await page.mouse.up();
  await listed(page, ['1. Second', `2. ${third}`, '3. First']);
  await list.focus();
  await page.keyboard.press('Delete');
  await listed(page, ['1. Second', `2. ${third}`]);
  await button(page, 'Undo').click();
  await listed(page, ['1. Second', `2. ${third}`, '3. First']);
  for (let k = 0; k < 3; k += 1) await button(page, 'Undo').click();
  await listed(page, ['1. First', '2. Second', `3. ${third}`]);
  await button(page, 'Redo').click();
  await listed(page, ['1. Second', '2. First', `3. ${third}`]);
  await button(page, 'The task: what is asked to pass, and the title of the set').click();
  await button(page, 'Delete the set').click();
  await page.waitForFunction(() => document.getElementById('sets-name').textContent !== 'Tuesday');
  await button(page, 'Undo').click();
  await page.locator('#sets-name').filter({ hasText: 'Tuesday' }).waitFor();
  await close();
});

test('a partly bad file: every fault with its place, the good items offered, nothing silently', async () => {
  const { page, close } = await open({ hash: '#sets' });
  await ready(page);
  const bad = JSON.stringify(SET)
    .replace('"title":"First"', `"title":"${'x'.repeat(81)}"`)
    .replace(/("kind":"leave".*?"x":)[\d.]+/, '$1"<img src=x>"');
  await button(page, 'File…').click();
  await page.getByLabel('The file of a set').setInputFiles(file(bad));
  const faults = page.getByRole('list', { name: 'What is wrong with the file' }).getByRole('listitem');
  await faults.first().waitFor();
  assert.deepEqual(await faults.allTextContents(), [
    'entries[0].title.length: is 81: must have 0 to 80 characters',
    'entries[1].item.shot.balls[0].x: must be a number, not a text',
  ]);
  await page.getByRole('dialog').getByText('Tuesday: 2 of 3 items can be read; 2 faults.').waitFor();
  assert.deepEqual(await inaccessible(page), []);
  await page.getByRole('dialog').getByRole('button', { name: 'Cancel' }).click();
  assert.notEqual(await page.locator('#sets-name').textContent(), 'Tuesday', 'nothing was taken in');
  await button(page, 'File…').click();
  await page.getByLabel('The file of a set').setInputFiles(file('{"title":'));
  await page.getByRole('dialog').getByText('This is no set that can be read.').waitFor();
  await page.getByLabel('The file of a set').setInputFiles(file(bad));
  await button(page, 'Add the 2 good items').click();
  await page.locator('#sets-name').filter({ hasText: 'Tuesday' }).waitFor();
  await ready(page);
  assert.equal(await lines(page).count(), 2);

  // Dropped, it is looked at in the same way.
  await page.evaluate((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'set.json', { type: 'application/json' }));
    for (const type of ['dragover', 'drop']) document.body.dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: data }));
  }, JSON.stringify(SET));
  await page.getByRole('dialog').getByText('Tuesday: 3 items.').waitFor();
  await close();
});

test('a set is saved as a file that opens again, and sent as a link', async () => {
  const { page, close, another, url } = await open({ hash: '#sets', permissions: ['clipboard-write'] });
  await ready(page);
  await take(page);
  await button(page, 'Share').click();
  const field = page.getByLabel('Link to this set');
  await page.waitForFunction((input) => input.value.includes('#set='), await field.elementHandle());
  const link = await field.inputValue();
  assert.deepEqual(await inaccessible(page), []);
  const saving = page.waitForEvent('download');
  await button(page, 'Save as a file').click();
  const saved = await saving;
  assert.equal(saved.suggestedFilename(), 'tuesday.json');
  assert.deepEqual(JSON.parse(await readFile(await saved.path(), 'utf8')), SET, 'what was taken in comes out');
  await button(page, 'Print…').click();
  await page.getByRole('dialog', { name: 'Sheets to print' }).getByText(/^3 sheets\./).waitFor();
  await page.getByText('Trap: <b>none</b>').waitFor();
  await page.keyboard.press('Escape');
  const other = await another(link);
  await ready(other);
  await other.locator('#sets-name').filter({ hasText: 'Tuesday' }).waitFor();
  await lines(other).nth(2).waitFor();
  assert.equal(await lines(other).count(), 3);
  const broken = await another(`${url}${link.slice(link.indexOf('#'), -2)}`);
  await notice(broken).filter({ hasText: /cut off or altered/ }).waitFor();
  await close();
});

test('a set is taken item by item, scored, taken again and beaten', async () => {
  const short = { ...SET, pass: { mark: 60, need: 1 }, entries: [SET.entries[0], SET.entries[2]] };
  const { page, close } = await open({ hash: setLink(short, 90) });
  await ready(page);
  await page.locator('#sets-hint').filter({ hasText: 'To beat: 90 of 100, claimed by the sender.' }).waitFor();
  await button(page, 'Start').click();
  await count(page).filter({ hasText: '1 of 2' }).waitFor();
  assert.ok(page.url().endsWith(READ[0].hash), 'it is open in its own part');
  assert.ok(await page.getByRole('navigation', { name: 'Parts' }).isVisible(), 'the other parts are as near as ever');
  assert.ok(await button(page, 'Deal').isHidden(), 'nothing else is dealt meanwhile');
  await page.locator('#read-drawing .ball.cue').waitFor();
  await draw(page, READ[0].truth);
  await button(page, 'Play').click();
  await grade(page).waitFor();
  await count(page).filter({ hasText: /^1 of 2 · (9\d|100)$/ }).waitFor();
  assert.deepEqual(await inaccessible(page), []);
  await button(page, 'The next item').click();
  await count(page).filter({ hasText: /^2 of 2$/ }).waitFor();
  await page.reload();
  await count(page).filter({ hasText: /^2 of 2$/ }).waitFor();
  await page.locator('#read-drawing .ball.cue').waitFor();
  await draw(page, [[1.27, 0.6]]);
  await button(page, 'Play').click();
  await grade(page).waitFor();
  await count(page).filter({ hasText: /^2 of 2 · \d+$/ }).waitFor();
  await button(page, 'The item before').click();
  await count(page).filter({ hasText: /^1 of 2 · / }).waitFor();
  await grade(page).waitFor();
  await button(page, 'The next item').click();
  await count(page).filter({ hasText: /^2 of 2 · / }).waitFor();
  await button(page, 'The next item').click();
  await page.locator('#sets-hint').filter({ hasText: /^[12] of 2 passed, 1 is needed: passed\. Score \d+ of 100\. The sender claims 90 of 100; nobody checked it\. (Not beaten yet|You beat it|You are level)\./ }).waitFor();
  await button(page, 'Again').click();
  await count(page).filter({ hasText: /^1 of 2$/ }).waitFor();
  await page.waitForFunction(() => document.getElementById('read-play').textContent === 'Play');
  assert.equal(await grade(page).count(), 0, 'it is a fresh item');
  await button(page, 'End the set').click();
  await ready(page);
  assert.ok(await strip(page).isHidden());
  await close();
});

test('before a class: back, next, reveal and leave, by keys and by taps', async () => {
  for (const full of [true, false]) {
    const { page, close } = await open({
      hash: '#sets',
      init: full ? undefined : () => { delete Element.prototype.requestFullscreen; },
    });
    await ready(page);
    await take(page);
    await page.keyboard.press('f');
    const show = page.getByRole('dialog', { name: 'Tuesday' });
    await show.locator('.ball.cue').waitFor();
    if (full) await page.waitForFunction(() => document.fullscreenElement !== null);
    const number = show.locator('.show-count');
    await number.filter({ hasText: '1 of 3' }).waitFor();
    assert.equal(await show.locator('.real').count(), 0);
    const table = await show.locator('.show-stage').boundingBox();
    const { width, height } = page.viewportSize();
    assert.ok(table.width * table.height > 0.6 * width * height, `the table has ${table.width} × ${table.height}`);
    await page.keyboard.press(' ');
    await show.locator('.real').waitFor();
    await page.locator('#sets-show-table').click();
    await show.locator('.real').waitFor({ state: 'detached' });
    await page.locator('#sets-show-table').click();
    await show.locator('.real').waitFor();
    // Words of a file are text.
    await show.locator('.show-note').filter({ hasText: 'Trap: <b>none</b>' }).waitFor();
    assert.deepEqual(await inaccessible(page), []);
    await page.keyboard.press('ArrowRight');
    await number.filter({ hasText: '2 of 3' }).waitFor();
    assert.equal(await show.locator('.real').count(), 0, 'the next is covered');
    await page.keyboard.press('ArrowLeft');
    await number.filter({ hasText: '1 of 3' }).waitFor();
    await page.keyboard.press('Escape');
    await show.waitFor({ state: 'hidden' });
    if (full) await page.waitForFunction(() => document.fullscreenElement === null);
    await close();
  }
});

test('a run of Clear counts when it is cleared', async () => {
  const clear = clearItem({ game: 'group', balls: 1 });
  const set = { ...SET, title: 'Runs', pass: { mark: 100, need: 1 }, entries: [entryOf(clear, 'Two balls')] };
  const { page, close } = await open({ hash: '#sets' });
  await ready(page);
  await take(page, set);
  await page.locator('#sets-pass').filter({ hasText: 'To pass: clear 1 of 1.' }).waitFor();
  await button(page, 'Start').click();
  await count(page).filter({ hasText: '1 of 1' }).waitFor();
  await page.locator('#clear-drawing').getByRole('img', { name: /^cue ball/i }).first().waitFor();
  for (let shot = 0; shot < 2 && !/cleared/.test(await count(page).textContent()); shot += 1) {
    await page.waitForFunction(() => !document.getElementById('clear-play').disabled && document.getElementById('clear-play').textContent === 'Play');
    await page.waitForTimeout(650);
    await button(page, 'Play').click();
    await page.waitForTimeout(1000);
  }
  await count(page).filter({ hasText: /^1 of 1 · (not )?cleared$/ }).waitFor();
  await close();
});

test('everything is on one screen, on a phone held either way, a tablet and a desktop', async () => {
  for (const [width, height] of [[390, 844], [360, 640], [844, 390], [820, 1180], [1280, 800], [1440, 900]]) {
    const { page, close } = await open({ hash: '#sets', viewport: { width, height }, colorScheme: width === 390 ? 'dark' : 'light' });
    await ready(page);
    const fits = async (when) => {
      const over = await page.evaluate(() => [document.documentElement.scrollWidth - innerWidth, document.documentElement.scrollHeight - innerHeight]);
      assert.deepEqual(over.map((far) => Math.max(0, far)), [0, 0], `${width} × ${height}, ${when}`);
      const table = await page.locator('#sets-table').boundingBox();
      assert.ok(table.width * table.height > 0.2 * width * height, `${width} × ${height}, ${when}: the table is ${table.width} × ${table.height}`);
      for (const id of ['take', 'item', 'class', 'file', 'share', 'reveal']) {
        const box = await page.locator(`#sets-${id}`).boundingBox();
        assert.ok(box && box.x >= 0 && box.x + box.width <= width + 0.5 && box.y + box.height <= height + 0.5, `${width} × ${height}, ${when}: ${id} is seen`);
      }
    };
    await fits('at first');
    await page.keyboard.press('r');
    await page.locator('#sets-drawing .real').waitFor();
    await fits('revealed');
    assert.deepEqual(await inaccessible(page), [], `${width} × ${height}`);
    await button(page, 'Start').click();
    await count(page).filter({ hasText: '1 of 10' }).waitFor();
    const over = await page.evaluate(() => [document.documentElement.scrollWidth - innerWidth, document.documentElement.scrollHeight - innerHeight]);
    assert.deepEqual(over.map((far) => Math.max(0, far)), [0, 0], `${width} × ${height}, taking`);
    assert.deepEqual(await inaccessible(page), [], `${width} × ${height}, taking`);
    await close();
  }
});

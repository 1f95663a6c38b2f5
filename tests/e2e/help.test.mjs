// Help: the glossary with its examples, the keys, what can be set; and the walk-through.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { seeded } from './core.mjs';
import { button, dealt, draw, grade, handles, open, play, spot, stage } from './page.mjs';

const WORDS = JSON.parse(await readFile(new URL('../../www/words/glossary.json', import.meta.url), 'utf8')).words;
const GUIDE = 'leaveline.guide';
const guide = (page) => page.getByRole('group', { name: 'Walk-through' });
const step = (page, text) => guide(page).getByRole('status').filter({ hasText: text }).waitFor();
const over = (page) => guide(page).waitFor({ state: 'detached' });
const isOver = (page) => page.evaluate((key) => localStorage.getItem(key) !== null, GUIDE);
const radios = (page) => page.getByRole('group', { name: 'Words' }).getByRole('radio');

for (const viewport of [{ width: 1366, height: 768 }, { width: 360, height: 640 }, { width: 844, height: 390 }]) {
  test(`every word is one tap from Help, with its example, ${viewport.width} wide`, async () => {
    const { page, close } = await open({ viewport });
    await dealt(page);
    await button(page, 'Help').click();
    await radios(page).first().waitFor({ timeout: 60_000 });
    assert.equal(await radios(page).count(), WORDS.length);
    for (const { term, meaning, shows, balls, runs, marks } of WORDS) {
      await page.getByRole('radio', { name: term, exact: true }).check({ force: true });
      await page.locator('.words-said h3').filter({ hasText: term }).waitFor();
      assert.deepEqual(await page.locator('.words-said p').allTextContents(), [meaning, shows]);
      const drawing = page.getByRole('group', { name: `Example: ${term}` });
      assert.equal(await drawing.locator('.ball').count(), balls.length, term);
      const end = runs[0].stop.map((value) => (Math.round(value * 1e5) / 100).toString()).join(' ');
      const path = await drawing.locator('.real').getAttribute('d');
      assert.ok(path.endsWith(end), `${term}: the path that the core played: ${path.slice(-20)} for ${end}`);
      if (marks.some(({ kind }) => kind === 'zone')) await drawing.locator('.zone-area').waitFor();
    }
    const [right, bottom] = await page.locator('#help-dialog').evaluate((dialog) => {
      const box = dialog.getBoundingClientRect();
      return [innerWidth - box.right, innerHeight - box.bottom];
    });
    assert.ok(right >= 0 && bottom >= 0, 'it fits the window');
    const table = await page.locator('#words-table').boundingBox();
    assert.ok(table.width >= 0.35 * viewport.width, `the example is large: ${table.width}`);
    await close();
  });
}

test('by keys alone: Help, its tabs, a word, and back to where the keyboard was', async () => {
  const { page, close } = await open();
  await dealt(page);
  await button(page, 'Help').focus();
  await page.keyboard.press('Enter');
  await radios(page).first().waitFor({ timeout: 60_000 });
  const tabs = page.getByRole('tab');
  await page.keyboard.press('Tab');
  for (const name of ['Words', 'Keys', 'Settings', 'Limits']) {
    assert.equal(await page.evaluate(() => document.activeElement.textContent), name);
    assert.equal(await tabs.filter({ hasText: name }).getAttribute('aria-selected'), 'true');
    await page.keyboard.press('ArrowRight');
  }
  await page.keyboard.press('Tab');
  assert.equal(await page.evaluate(() => document.activeElement.value), 'ghost-ball', 'round to Words again, and on to the list');
  await page.keyboard.press('ArrowDown');
  await page.locator('.words-said h3').filter({ hasText: 'Cut angle' }).waitFor();
  await page.keyboard.press('Escape');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'help');
  await close();
});

test('without a network the words are missed in words, and come once it is back', async () => {
  const { page, context, errors, close } = await open();
  await dealt(page);
  await context.route('**/words/glossary.json', (route) => route.abort());
  await button(page, 'Help').click();
  await page.getByRole('alert').filter({ hasText: 'could not be loaded. Check the connection' }).waitFor();
  assert.match(errors.splice(0).join(), /ERR_FAILED/, 'that is all that the browser reports');
  await context.unroute('**/words/glossary.json');
  await page.keyboard.press('Escape');
  await button(page, 'Help').click();
  await radios(page).first().waitFor();
  await close();
});

test('the walk-through goes with what the player does, to the first grade, and is not offered again', async () => {
  const { page, close } = await open();
  await dealt(page);
  await button(page, 'Show me').click();
  await step(page, /^The dash-dotted line is given/);
  await button(page, 'Next').click();
  await step(page, /^Tap where you think it stops/);
  await draw(page, [[1.4, 0.85]]);
  await step(page, /^A cushion first\?/);
  await page.mouse.move(...(await spot(page, [1.4, 0.85])));
  await draw(page, [[1.2, 0.6]]);
  await step(page, /^Now play it/);
  assert.ok(await page.locator('#read-play').evaluate((one) => one.classList.contains('walked')), 'it points at Play');
  await play(page);
  await step(page, /^Dashed: your call\. Solid: what happened/);
  await button(page, 'Done').click();
  await over(page);
  assert.ok(await page.locator('#read-hint').isVisible(), 'the hint is back');
  assert.ok(await isOver(page));
  await page.reload();
  await grade(page).waitFor();
  assert.equal(await guide(page).count(), 0);
  await button(page, 'Help').click();
  await button(page, 'Show me how Read goes').click();
  await step(page, /^The dash-dotted line is given/);
  assert.equal(await handles(page).count(), 0, 'over a fresh item');
  await close();
});

test('who plays at once is not held up, and the offer is gone', async () => {
  const { page, close } = await open();
  await dealt(page);
  await button(page, 'Show me').waitFor();
  await draw(page);
  await play(page);
  await over(page);
  assert.ok(await isOver(page));
  await close();
});

test('it is skipped at any step: by key, by mouse, by touch', async () => {
  const ways = {
    key: (page) => page.keyboard.press('Escape'),
    mouse: (page) => button(page, 'Skip the walk-through').click(),
    touch: (page) => button(page, 'Skip the walk-through').tap(),
  };
  for (const [name, skip] of Object.entries(ways)) {
    for (let steps = 0; steps <= 3; steps++) {
      const { page, close } = await open({ hasTouch: true });
      await dealt(page);
      await button(page, 'Show me').waitFor();
      if (steps > 0) await button(page, 'Show me').click();
      if (steps > 1) await button(page, 'Next').click();
      if (steps > 2) await draw(page, [[1.4, 0.85]]);
      await skip(page);
      await over(page);
      assert.ok(await isOver(page), `${name}, step ${steps}`);
      await page.reload();
      await dealt(page);
      await page.waitForTimeout(200);
      assert.equal(await guide(page).count(), 0, `${name}, step ${steps}`);
      await close();
    }
  }
});

test('held by the left hand, the tools of a phone stand at the left, in every part, and it is kept', async () => {
  const place = await stage();
  for (const viewport of [{ width: 360, height: 640 }, { width: 390, height: 844 }, { width: 844, height: 390 }]) {
    const { page, close } = await open({ place, viewport, hasTouch: true });
    await dealt(page);
    const tools = async (part) => {
      const [one, table] = [await page.locator(`#${part} .tools`).first().boundingBox(), await page.locator(`#${part} .table`).first().boundingBox()];
      return one.x + one.width / 2 < table.x + table.width / 2 ? 'left' : 'right';
    };
    assert.equal(await tools('read'), 'right');
    await button(page, 'Help').tap();
    await page.getByRole('tab', { name: 'Settings' }).tap();
    await page.getByRole('radio', { name: 'at the left' }).check();
    await button(page, 'Done').tap();
    await page.reload();
    await dealt(page);
    for (const part of ['read', 'leave', 'bench']) {
      await page.evaluate((name) => (location.hash = `#${name}`), part);
      await page.locator(`#${part} .tools`).first().waitFor({ timeout: 60_000 });
      await page.waitForTimeout(100);
      assert.equal(await tools(part), 'left', `${part}, ${viewport.width} wide`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.equal(wide, 0, `${part}, ${viewport.width} wide: nothing is pushed out`);
    }
    await close();
  }
  await place.close();
});

test('a pen taps and drags as a finger does', async () => {
  const { page, context, close } = await open({ hash: seeded(2, 5).hash });
  await dealt(page);
  const pen = await context.newCDPSession(page);
  const send = (type, [x, y], buttons) =>
    pen.send('Input.dispatchMouseEvent', { type, x, y, button: type === 'mouseMoved' && !buttons ? 'none' : 'left', buttons, clickCount: type === 'mouseMoved' ? 0 : 1, pointerType: 'pen' });
  const tap = async (place) => {
    const at = await spot(page, place);
    await send('mousePressed', at, 1);
    await send('mouseReleased', at, 0);
  };
  await tap([1.9, 0.01]);
  await handles(page).nth(0).waitFor();
  assert.match(await handles(page).nth(0).getAttribute('aria-label'), /right rail/i, 'it snaps');
  await tap([1.4, 0.85]);
  await handles(page).nth(1).waitFor();
  const stood = await page.locator('[data-handle="1"]').getAttribute('transform');
  const [from, to] = [await spot(page, [1.4, 0.85]), await spot(page, [1.1, 0.5])];
  await send('mouseMoved', from, 0);
  assert.equal(await page.locator('.call.preview').count(), 0, 'a pen that hovers draws nothing');
  await send('mousePressed', from, 1);
  await send('mouseMoved', [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], 1);
  await send('mouseMoved', to, 1);
  await page.locator('.loupe[visibility="visible"]').waitFor();
  await send('mouseReleased', to, 0);
  await page.waitForFunction((old) => document.querySelector('[data-handle="1"]').getAttribute('transform') !== old, stood);
  assert.equal(await handles(page).count(), 2, 'a drag moves a point and adds none');
  await close();
});

test('who wants no motion sees none: the shot is played at once, and nothing is animated', async () => {
  for (const part of ['read', 'leave', 'clear', 'eye', 'bench', 'sets', 'log']) {
    const { page, close } = await open({ hash: `#${part}`, reducedMotion: 'reduce' });
    await page.locator(`#${part}`).waitFor({ timeout: 60_000 });
    await page.waitForTimeout(1000);
    const running = await page.evaluate(() => document.getAnimations().filter(({ playState }) => playState === 'running').length);
    assert.equal(running, 0, part);
    if (part === 'read') {
      await draw(page);
      await button(page, 'Play').click();
      await page.locator('#read-play').filter({ hasText: 'Replay' }).waitFor();
    }
    await close();
  }
});

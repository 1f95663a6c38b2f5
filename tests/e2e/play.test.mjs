// A whole item, by mouse, by touch, and by keyboard alone.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { seeded } from './core.mjs';
import { allRead, button, call, dealt, draw, grade, handles, layout, open, play, spot, stage } from './page.mjs';

test('by mouse: draw, change, play, read the grade, deal again', async () => {
  const { page, close } = await open();
  await dealt(page);
  const first = await layout(page);
  assert.ok(await button(page, 'Play').isDisabled(), 'nothing is called yet');
  await draw(page);
  assert.equal(await handles(page).count(), 3);
  const [foot] = await call(page);
  assert.match(foot, /right rail/i, 'a point near a rail snaps to it');

  // Drag the stop.
  const stood = await page.locator('[data-handle="2"]').getAttribute('transform');
  await page.mouse.move(...(await spot(page, [1.4, 0.85])));
  await page.mouse.down();
  await page.mouse.move(...(await spot(page, [1.2, 0.6])), { steps: 4 });
  await page.mouse.up();
  await page.waitForFunction((old) => document.querySelector('[data-handle="2"]').getAttribute('transform') !== old, stood);
  await page.locator('.handle.held').waitFor({ state: 'detached' });
  const moved = await call(page);
  assert.equal(moved.length, 3, 'a drag moves a point and adds none');

  // Drag the line between the two touches: a new point.
  await page.mouse.move(...(await spot(page, [2.2, 0.2638])));
  await page.mouse.down();
  await page.mouse.move(...(await spot(page, [2.0, 0.4])), { steps: 4 });
  await page.mouse.up();
  await handles(page).nth(3).waitFor();
  await page.locator('.handle.held').waitFor({ state: 'detached' });
  const bent = await call(page);
  assert.deepEqual([bent[0], bent[2], bent[3]], moved, 'the new point stands between the touches');

  await button(page, 'Undo').click();
  await handles(page).nth(3).waitFor({ state: 'detached' });
  assert.deepEqual(await call(page), moved);
  await button(page, 'Redo').click();
  await handles(page).nth(3).waitFor();
  assert.deepEqual(await call(page), bent);
  await handles(page).nth(1).focus();
  await page.mouse.click(...(await spot(page, [2.0, 0.4])));
  await button(page, 'Remove the chosen point, or the last').click();
  await handles(page).nth(3).waitFor({ state: 'detached' });
  assert.deepEqual(await call(page), moved, 'the chosen point is gone');

  await play(page);
  const mark = Number(await page.locator('#read-mark').textContent());
  assert.ok(mark >= 0 && mark <= 100, `a mark of ${mark}`);
  const lines = grade(page).getByRole('option');
  assert.ok((await lines.count()) >= 3, 'heading, stop and more are told apart');
  const measured = page.locator('.dimension');
  assert.ok((await measured.count()) >= 1, 'errors are drawn on the table');
  for (let k = 0; k < (await lines.count()); k++) {
    await lines.nth(k).hover();
    assert.equal(await lines.nth(k).getAttribute('aria-selected'), 'true');
  }
  await lines.first().hover();
  await page.locator('.dimension.lit').waitFor();

  await page.waitForTimeout(650);
  await button(page, 'Deal').click();
  await grade(page).waitFor({ state: 'hidden' });
  assert.equal(await handles(page).count(), 0);
  assert.notDeepEqual(await layout(page), first, 'another item is on the table');
  await close();
});

test('a newcomer is shown where to start, until a call was played', async () => {
  const { page, close } = await open();
  await dealt(page);
  const start = page.locator('.note.start');
  const asked = page.getByText(/^Guess: tap where the cue ball stops, off the \d+/);
  await start.waitFor();
  await page.mouse.move(...(await spot(page, [1.5, 0.5])));
  await page.locator('.call.preview').first().waitFor();
  assert.ok(await asked.isVisible(), 'what is asked stays while the mouse looks around');
  await draw(page);
  assert.equal(await start.count(), 0);
  assert.equal(await asked.count(), 0);
  await play(page);
  await page.waitForTimeout(650);
  await button(page, 'Deal').click();
  await asked.waitFor();
  assert.equal(await start.count(), 0);
  await page.mouse.move(...(await spot(page, [1.4, 0.6])));
  await page.locator('#read-hint').filter({ hasText: /^Diamond/ }).waitFor();
  await close();
});

test('the shot runs in real time, a double press plays once, and it can be skipped', async () => {
  const { page, close } = await open({ reducedMotion: 'no-preference' });
  await dealt(page);
  await draw(page);
  await button(page, 'Play').dblclick();
  await button(page, 'Skip').waitFor();
  assert.ok(await grade(page).isHidden(), 'the second press of a double press did nothing');
  await button(page, 'Speed 1 times, press to change').click();
  await button(page, 'Speed 2 times, press to change').waitFor();
  const cue = page.getByRole('img', { name: /^cue ball/i }).first();
  const before = await cue.getAttribute('transform');
  await page.waitForFunction((old) => document.querySelector('.ball.cue')?.getAttribute('transform') !== old, before);
  await page.waitForTimeout(650);
  if (await button(page, 'Skip').isVisible()) await button(page, 'Skip').click();
  await grade(page).waitFor();
  await close();
});

test('nothing moves and nothing is drawn while the page waits', async () => {
  const { page, close } = await open({
    reducedMotion: 'no-preference',
    init: () => {
      globalThis.frames_asked = 0;
      const ask = globalThis.requestAnimationFrame;
      globalThis.requestAnimationFrame = (act) => {
        globalThis.frames_asked++;
        return ask(act);
      };
    },
  });
  await dealt(page);
  await draw(page);
  await button(page, 'Play').click();
  await page.waitForTimeout(700);
  const running = await page.evaluate(() => globalThis.frames_asked);
  assert.ok(running < 200, `at most two frames are asked for at a time: ${running} in 0.7 s`);
  await button(page, 'Skip').click();
  await grade(page).waitFor();
  await page.waitForTimeout(300);
  const before = await page.evaluate(() => globalThis.frames_asked);
  await page.waitForTimeout(600);
  assert.equal(await page.evaluate(() => globalThis.frames_asked), before);
  await close();
});

test('by touch: tap, drag with the spot shown beside the finger, play', async () => {
  const { page, context, close } = await open({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  await dealt(page);
  const touch = await context.newCDPSession(page);
  const send = (type, at) =>
    touch.send('Input.dispatchTouchEvent', { type, touchPoints: at ? [{ x: at[0], y: at[1] }] : [] });
  await page.touchscreen.tap(...(await spot(page, [1.9, 0.01])));
  await handles(page).nth(0).waitFor();
  await allRead(page);
  assert.match((await call(page))[0], /right rail/i);

  const [from, to] = [await spot(page, [1.2, 0.9]), await spot(page, [1.0, 0.5])];
  await send('touchStart', from);
  await send('touchMove', [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  await send('touchMove', to);
  await page.locator('.loupe[visibility="visible"]').waitFor();
  const finger = { x: to[0], y: to[1] };
  const rim = await page.locator('#read-table .loupe-rim').boundingBox();
  const clear = Math.hypot(rim.x + rim.width / 2 - finger.x, rim.y + rim.height / 2 - finger.y) - rim.width / 2;
  assert.ok(clear > 24, `the finger leaves the inset free: ${clear} px`);
  await send('touchEnd');
  await handles(page).nth(1).waitFor();
  await page.locator('.loupe[visibility="visible"]').waitFor({ state: 'detached' });

  // A second finger zooms, and places nothing.
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: 100, y: 300 }] });
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: 100, y: 300 }, { x: 200, y: 400 }] });
  await send('touchEnd');
  await page.waitForTimeout(250);
  assert.equal(await handles(page).count(), 2);

  await button(page, 'Play').tap();
  await grade(page).waitFor();
  await grade(page).getByRole('option').first().tap();
  await page.locator('.dimension.lit').waitFor();
  await close();
});

test('by keyboard alone: place, move, remove, type, play, read, deal', async () => {
  const { page, close } = await open();
  await dealt(page);
  const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.id);
  for (let k = 0; k < 12 && !/ghost ball/i.test(String(await focused())); k++) await page.keyboard.press('Tab');
  assert.match(await focused(), /ghost ball/i, 'the ghost ball is reached by Tab');
  await page.keyboard.press('Enter');
  await handles(page).nth(0).waitFor();
  assert.match(await focused(), /^(Stop|Last point)/, 'the keyboard stands on the new point');

  const before = (await call(page))[0];
  const place = () => page.locator('[data-handle="0"]').getAttribute('transform');
  const was = await place();
  for (let k = 0; k < 12; k++) {
    await page.keyboard.press('ArrowLeft');
    await page.waitForTimeout(20);
  }
  assert.notEqual(await place(), was);
  assert.ok(before, 'the point is told in words');

  await page.keyboard.press('t');
  const dialog = page.getByRole('dialog', { name: 'Type a point' });
  await dialog.getByLabel('Where').selectOption('foot rail');
  await dialog.getByRole('textbox').first().fill('9');
  await page.keyboard.press('Enter');
  await dialog.getByRole('status').filter({ hasText: /\w/ }).waitFor();
  assert.equal(await handles(page).count(), 1, 'a diamond that does not exist is refused');
  await dialog.getByRole('textbox').first().fill('1,5');
  await page.keyboard.press('Enter');
  await dialog.getByRole('status').filter({ hasText: /foot rail/ }).waitFor();
  await dialog.getByLabel('Where').selectOption('on the cloth');
  await dialog.getByLabel(/from the head/).fill('3');
  await dialog.getByLabel(/from the right/).fill('2.5');
  await page.keyboard.press('Enter');
  await dialog.getByRole('status').filter({ hasText: /diamond 3 from the head, 2\.5 from the right/ }).waitFor();
  await page.keyboard.press('Escape');
  await handles(page).nth(2).waitFor();

  await handles(page).nth(0).focus();
  await page.keyboard.press('Delete');
  await handles(page).nth(2).waitFor({ state: 'detached' });
  await page.keyboard.press('Control+z');
  await handles(page).nth(2).waitFor();
  await page.keyboard.press('Control+Shift+Z');
  await handles(page).nth(2).waitFor({ state: 'detached' });

  await page.keyboard.press('p');
  await grade(page).waitFor();
  const status = page.locator('#live');
  assert.match(await status.textContent(), /of 100\. .*stop/i, 'the grade is spoken line by line');
  await grade(page).focus();
  await page.keyboard.press('ArrowDown');
  const [id, spoken] = await page.evaluate(() => {
    const chosen = document.getElementById(document.activeElement.getAttribute('aria-activedescendant'));
    return [chosen?.id, chosen?.querySelector('.spoken').textContent];
  });
  assert.ok(id && spoken, 'the list tells which line it is on');
  const first = await layout(page);
  await page.waitForTimeout(650);
  await page.keyboard.press('d');
  await grade(page).waitFor({ state: 'hidden' });
  assert.notDeepEqual(await layout(page), first);
  await page.waitForFunction(() => document.activeElement?.getAttribute('data-handle') === 'ghost');
  await close();
});

test('who draws the real path gets nearly the whole mark, at every level', async () => {
  const place = await stage();
  for (let level = 1; level <= 6; level++) {
    const { truth, hash, question } = seeded(level, 40 + level);
    const { page, close } = await open({ place, hash });
    await dealt(page);
    assert.deepEqual(await layout(page), question.balls.map(({ words }) => words), 'the item of the link is on the table');
    await draw(page, truth);
    await play(page);
    const mark = Number(await page.locator('#read-mark').textContent());
    // Straight lines stand for its curves, and a pixel is three millimetres.
    assert.ok(mark >= 80, `level ${level}: ${mark} of 100`);
    assert.ok((await page.locator('circle.real-touch').count()) >= truth.length - 1, 'its touches are drawn');
    await close();
  }
  await place.close();
});

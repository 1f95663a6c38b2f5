// Clear, a whole run: by mouse, by touch, by keyboard alone; the plan; what is kept; what is seen.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { clearItem } from './core.mjs';
import { button, inaccessible, notice, open, spotIn } from './page.mjs';

const ROTATION = clearItem({});
const GROUP = clearItem({ game: 'group', balls: 2 });
const drawing = (page) => page.locator('#clear-drawing');
const dealt = (page) => drawing(page).getByRole('img', { name: /^cue ball/i }).first().waitFor();
const spot = (page, place) => spotIn(page, 'clear-drawing', place);
const ballOf = (item, id) => item.shot.balls.find((one) => one.id === id);
const tapBall = async (page, item, id) => page.mouse.click(...(await spot(page, [ballOf(item, id).x, ballOf(item, id).y])));
const shots = (page) => page.getByRole('listbox', { name: /the shots so far/i }).getByRole('option');
const steps = (page) => page.getByRole('listbox', { name: /^the plan/i }).getByRole('option');
const ways = (page) => page.getByRole('listbox', { name: /^shots from here/i }).getByRole('option');
const task = (page) => page.locator('#clear-title-task').textContent();
const layout = (page) =>
  drawing(page).locator('.ball').evaluateAll((balls) => balls.map((ball) => ball.getAttribute('aria-label').replace(/, (number|not|in the way).*/, '')));
const SLOW = { timeout: 60_000 };
/** A plan is proved once its ways have raced. */
const PROVED = { timeout: 240_000 };

/** Plays the shot at hand and waits until the run has one more. */
async function play(page) {
  const before = await shots(page).count();
  await page.waitForTimeout(650);
  await page.waitForFunction(() => !document.getElementById('clear-play').disabled);
  await button(page, 'Play').click();
  await shots(page).nth(before).waitFor();
}

/** Marks a zone by a tap on the cloth. */
async function tapZone(page) {
  await page.mouse.click(...(await spot(page, [1.4, 0.6])));
  await drawing(page).getByRole('button', { name: /^Zone: / }).waitFor();
}

/** Takes the best way on from here over. */
async function takeOver(page) {
  await button(page, 'What now').click();
  await ways(page).first().click(SLOW);
  await page.locator('#clear-now').waitFor({ state: 'hidden' });
}

test('a deal comes, its plan is shown and proved, and its second plans are told', async () => {
  const { page, close } = await open({ hash: '#clear' });
  await dealt(page);
  assert.match(await task(page), /^Clear the 1, .*lowest first/);
  assert.match(page.url(), /#clear=2\./, 'the deal is in the address');
  assert.equal(await drawing(page).locator('.plan-path').count(), 0, 'no plan is shown before it is asked for');
  await button(page, 'Plan').click();
  // A first plan may end early.
  await steps(page).nth(3).waitFor(SLOW);
  assert.equal(await steps(page).count(), 4, 'a shot for each ball');
  assert.equal(await drawing(page).locator('.plan-path').count(), 4);
  assert.ok((await drawing(page).locator('.plan-zone').count()) >= 2, 'zones are drawn');
  await page.locator('#clear-key').filter({ hasText: /^Key ball: the \d/ }).waitFor();
  await page.locator('#clear-found').filter({ hasText: /^Cleared \d+ of \d+ runs: \d+ to \d+ %\./ }).waitFor(PROVED);
  await page.locator('#clear-sure').filter({ hasText: 'at least' }).waitFor();
  await page.locator('#clear-own').filter({ hasText: /^Your shot, the 1 [a-z -]+: \d+ %\. The plan’s: \d+ %\.$/ }).waitFor(SLOW);
  await steps(page).nth(1).hover();
  await page.waitForFunction(() => document.querySelectorAll('#clear-drawing .plan-path')[1].classList.contains('lit'));
  assert.match(await page.locator('#clear-seconds').textContent(), /(Long|Short|On the wrong side): /);
  assert.deepEqual(await inaccessible(page), []);
  await steps(page).nth(1).click();
  assert.ok(await page.locator('#clear-plan').isVisible(), 'a later shot is looked at only');
  await steps(page).first().hover();
  const hint = page.locator('#clear-hint').filter({ hasText: /^Tap shot 1 to take it over: the 1 in the .* lengths\./ });
  await hint.waitFor();
  const [, pocket, lengths] = (await hint.textContent()).match(/the ([a-z-]+) pocket, .* (\d+\.\d) lengths/);
  await steps(page).first().click();
  await page.locator('#clear-plan').waitFor({ state: 'hidden' });
  assert.equal(await drawing(page).locator('.plan-path').count(), 0);
  await drawing(page).getByRole('button', { name: `Aim at the ${pocket.replace('-', ' ')} pocket`, pressed: true }).waitFor();
  await page.locator('#clear-words').filter({ hasText: `${Number(lengths)} length` }).waitFor();
  await close();
});

test('by mouse: order, pocket, zone, stroke, play, take back, see again, start again', async () => {
  const { item, hash } = GROUP;
  const { page, close } = await open({ hash });
  await dealt(page);
  assert.ok(await button(page, 'Play').isDisabled(), 'no ball is called yet');
  await page.locator('#clear-hint').filter({ hasText: 'Tap the balls in the order' }).waitFor();
  await tapBall(page, item, '2');
  await drawing(page).getByRole('button', { name: /^the 2.*number 1 in the order|^2 ball.*number 1 in the order/i }).waitFor();
  await page.locator('#clear-drawing .order-box').first().waitFor();
  await tapBall(page, item, '1');
  // The 8 comes last by itself.
  await drawing(page).getByRole('button', { name: /^8 ball.*number 3 in the order/ }).waitFor();
  await tapBall(page, item, '2');
  await drawing(page).getByRole('button', { name: /not in the order yet/ }).first().waitFor();
  await takeOver(page);
  await page.waitForFunction(() => !document.getElementById('clear-play').disabled);

  const aimed = drawing(page).getByRole('button', { name: /^Aim at the .* pocket/, pressed: true });
  const before = await aimed.getAttribute('aria-label');
  const other = drawing(page).getByRole('button', { name: /^Aim at the .* pocket/, pressed: false }).first();
  const name = await other.getAttribute('aria-label');
  await other.click();
  await drawing(page).getByRole('button', { name, pressed: true }).waitFor();
  await button(page, 'Undo').click();
  await drawing(page).getByRole('button', { name: before, exact: true, pressed: true }).waitFor();

  const words = page.locator('#clear-words');
  const struck = await words.textContent();
  const ruler = await page.getByRole('slider', { name: 'Speed' }).boundingBox();
  await page.mouse.click(ruler.x + 0.4 * ruler.width, ruler.y + 0.2 * ruler.height);
  await page.waitForFunction((old) => document.getElementById('clear-words').textContent !== old, struck);
  await button(page, 'Undo').click();
  await page.waitForFunction((old) => document.getElementById('clear-words').textContent === old, struck);

  const start = await layout(page);
  await button(page, 'Play the exact stroke').click();
  await play(page);
  assert.match(await page.locator('#clear-hint').textContent(), /potted\. It stopped (in|outside) your zone/);
  assert.match(await task(page), /^Clear the \d, then the 8\./);
  assert.notDeepEqual(await layout(page), start);
  await shots(page).first().filter({ hasText: /\d+ \/ \d+ \/ \d+/ }).waitFor(SLOW);
  await button(page, 'Replay the last shot').click();
  await page.waitForFunction(() => document.getElementById('live').textContent === 'Seen again.' || document.getElementById('clear-play').textContent === 'Play');
  await button(page, 'Take the last shot back').click();
  await shots(page).first().waitFor({ state: 'detached' });
  assert.deepEqual(await layout(page), start, 'all lie where they lay');
  await play(page);
  await button(page, 'Start the layout again').click();
  await shots(page).first().waitFor({ state: 'hidden' });
  assert.deepEqual(await layout(page), start);
  await close();
});

test('by keyboard alone a layout is cleared or lost, and where it was decided is told', async () => {
  const { page, close } = await open({ hash: GROUP.hash });
  await dealt(page);
  const status = page.locator('#live');
  assert.match(await status.textContent(), /in any order, then the 8\. cue ball, /i, 'task and layout are told');
  const ball = drawing(page).getByRole('button', { name: /not in the order yet/ }).first();
  await ball.focus();
  await page.keyboard.press('Enter');
  await status.filter({ hasText: /^Your order: / }).waitFor();
  await page.keyboard.press('x');
  await status.filter({ hasText: 'Played exactly.' }).waitFor();
  for (let k = 0; k < 3 && (await button(page, 'Again').count()) === 0; k++) {
    const deepest = await shots(page).count();
    await page.getByRole('button', { name: 'What now' }).focus();
    await page.keyboard.press('w');
    await ways(page).first().waitFor(SLOW);
    await page.locator('#clear-ways').focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('Enter');
    await page.locator('#clear-now').waitFor({ state: 'hidden' });
    await page.waitForTimeout(650);
    await page.waitForFunction(() => !document.getElementById('clear-play').disabled);
    await page.keyboard.press('p');
    await shots(page).nth(deepest).waitFor();
    // Where the run was decided may be told right after it; under the table both stand.
    await page.locator('#live, #clear-hint').filter({ hasText: /potted|Cleared|over/ }).first().waitFor();
  }
  await button(page, 'Again').waitFor();
  await status.filter({ hasText: /cost|No choice and no stroke/ }).waitFor(SLOW);
  assert.match(await page.locator('#clear-hint').textContent(), /cost|No choice and no stroke/);
  await page.locator('#clear-shots').focus();
  await page.keyboard.press('Home');
  await page.locator('#clear-hint').filter({ hasText: /^Shot 1: the \d in the .* %\. The plan: the \d in the/ }).waitFor();
  await drawing(page).locator('.plan-path.lit').waitFor();
  assert.deepEqual(await inaccessible(page), []);
  await page.waitForTimeout(650);
  await page.keyboard.press('p');
  await page.waitForFunction(() => document.getElementById('clear-play').textContent === 'Play');
  assert.match(await task(page), /^Clear the 1 and the 2/);
  await close();
});

test('a reload keeps the run, the shot at hand and the hand; the link alone opens the layout as it was dealt', async () => {
  const { page, another, url, close } = await open({ hash: ROTATION.hash });
  await dealt(page);
  assert.equal(await task(page), 'Clear the 1, the 2 and the 3, lowest first.');
  await page.locator('#clear-hand').selectOption('makes-95');
  await button(page, 'Play the exact stroke').click();
  await takeOver(page);
  await play(page);
  const left = await layout(page);
  await drawing(page).locator('.real.past').waitFor();
  await tapZone(page);
  assert.equal(await drawing(page).locator('.real.past').count(), 0, 'how the balls ran is gone once the next stroke is set');
  assert.equal(await page.evaluate(() => location.hash), ROTATION.hash, 'the address names the deal');
  await page.reload();
  await dealt(page);
  assert.deepEqual(await layout(page), left);
  assert.equal(await shots(page).count(), 1);
  await drawing(page).getByRole('button', { name: /^Zone: / }).waitFor();
  assert.equal(await page.locator('#clear-hand').inputValue(), 'makes-95');

  await button(page, 'Share').click();
  await page.getByLabel('as it lies now').check();
  await page.waitForFunction((dealt) => !document.getElementById('share-link').value.endsWith(dealt), ROTATION.hash);
  const rest = new URL(await page.locator('#share-link').inputValue());
  const third = await another(rest.href);
  await dealt(third);
  // Where a link is opened balls lie on its raster, a fraction of a millimetre off.
  assert.deepEqual((await layout(third)).length, left.length);
  assert.match(await task(third), /^Clear the \d/);
  await third.close();
  await button(page, 'Done').click();

  await button(page, 'Take the last shot back').click();
  await shots(page).first().waitFor({ state: 'detached' });

  await page.evaluate(() => localStorage.clear());
  const other = await another(url + ROTATION.hash);
  await dealt(other);
  assert.equal(await task(other), 'Clear the 1, the 2 and the 3, lowest first.');
  assert.equal(await shots(other).count(), 0);
  await button(other, 'Share').click();
  await other.waitForFunction(() => document.getElementById('share-link').value !== '');
  assert.equal(new URL(await other.locator('#share-link').inputValue()).hash, ROTATION.hash);
  await close();
});

test('by touch: a zone is dragged with the spot shown beside the finger, a pocket is tapped, the shot is played', async () => {
  const { page, context, close } = await open({ hash: ROTATION.hash, viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  await dealt(page);
  const touch = await context.newCDPSession(page);
  const send = (type, at) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: at ? [{ x: at[0], y: at[1] }] : [] });
  const zone = drawing(page).getByRole('button', { name: /^Zone: / });
  await page.touchscreen.tap(...(await spot(page, [1.0, 0.6])));
  await zone.waitFor();
  const before = await zone.getAttribute('aria-label');
  const [from, to] = [await spot(page, [1.0, 0.6]), await spot(page, [1.6, 0.7])];
  await send('touchStart', from);
  await send('touchMove', to);
  await page.locator('#clear-table .loupe[visibility="visible"]').waitFor();
  await send('touchEnd');
  assert.notEqual(await zone.getAttribute('aria-label'), before);
  const pocket = drawing(page).getByRole('button', { name: /^Aim at the .* pocket/, pressed: false }).first();
  const name = await pocket.getAttribute('aria-label');
  await pocket.tap();
  await drawing(page).getByRole('button', { name, pressed: true }).waitFor();
  await page.waitForFunction(() => !document.getElementById('clear-play').disabled);
  await button(page, 'Play').tap();
  await shots(page).first().waitFor();
  await close();
});

test('another layout is dealt at once, the back button goes to the one before', async () => {
  const { page, close } = await open({ hash: ROTATION.hash });
  await dealt(page);
  const first = await layout(page);
  await tapZone(page);
  await page.locator('#clear-wish').selectOption('group 1');
  await page.waitForFunction((old) => location.hash !== old, ROTATION.hash, SLOW);
  await page.waitForFunction(() => document.getElementById('clear-title-task').textContent === 'Clear the 1, then the 8.', null, SLOW);
  await page.goBack();
  await page.waitForFunction(() => /lowest first/.test(document.getElementById('clear-title-task').textContent), null, SLOW);
  assert.deepEqual(await layout(page), first);
  assert.equal(await page.locator('#clear-wish').inputValue(), 'rotation 3', 'the next deal is like what is on the table');
  await drawing(page).getByRole('button', { name: /^Zone: / }).waitFor();
  await close();
});

test('a link that was cut off says so, and a fresh layout is dealt', async () => {
  const { page, close } = await open({ hash: ROTATION.hash.slice(0, -3) });
  await notice(page).filter({ hasText: /cut off or altered/ }).waitFor(SLOW);
  await dealt(page);
  await close();
});

test('everything is on one screen, on a phone held either way, a tablet and a desktop', async () => {
  for (const [width, height] of [[390, 844], [360, 640], [844, 390], [820, 1180], [1280, 800], [1366, 768]]) {
    const { page, close } = await open({ hash: GROUP.hash, viewport: { width, height }, colorScheme: width === 390 ? 'dark' : 'light' });
    await dealt(page);
    const fits = async (when) => {
      const over = await page.evaluate(() => [document.documentElement.scrollWidth - innerWidth, document.documentElement.scrollHeight - innerHeight]);
      assert.deepEqual(over.map((far) => Math.max(0, far)), [0, 0], `${width} × ${height}, ${when}`);
      const table = await page.locator('#clear-table').boundingBox();
      assert.ok(table.width * table.height > 0.24 * width * height, `${width} × ${height}, ${when}: the table is ${table.width} × ${table.height}`);
      const clipped = await page.locator('#clear .action:not([hidden])').evaluateAll((all) => all.filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.id));
      assert.deepEqual(clipped, [], `${width} × ${height}, ${when}: words are whole`);
      for (const name of ['Play', 'Deal', 'Share']) {
        const box = await page.locator(`#clear-${name.toLowerCase()}`).boundingBox();
        assert.ok(box && box.x >= 0 && box.x + box.width <= width + 0.5 && box.y + box.height <= height + 0.5, `${width} × ${height}, ${when}: ${name} is seen`);
      }
    };
    await fits('at first');
    await takeOver(page);
    await button(page, 'Play the exact stroke').click();
    await play(page);
    await fits('after a shot');
    await button(page, 'Plan').click();
    await steps(page).first().waitFor(SLOW);
    await fits('with the plan');
    assert.deepEqual(await inaccessible(page), [], `${width} × ${height}`);
    await close();
  }
});

test('no worker is busy once all is known', async () => {
  const { page, close } = await open({
    hash: ROTATION.hash,
    init: () => {
      globalThis.asked = 0;
      const post = Worker.prototype.postMessage;
      Worker.prototype.postMessage = function count(...all) {
        globalThis.asked += 1;
        return post.apply(this, all);
      };
    },
  });
  await dealt(page);
  await button(page, 'Plan').click();
  await page.locator('#clear-found').filter({ hasText: / of 256 runs: / }).waitFor({ timeout: 120_000 });
  const asked = await page.evaluate(() => globalThis.asked);
  await page.waitForTimeout(1500);
  assert.equal(await page.evaluate(() => globalThis.asked), asked, 'nothing more is asked of the workers');
  await close();
});

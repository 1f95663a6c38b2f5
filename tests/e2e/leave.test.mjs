// Leave, a whole item: by mouse, by touch, by keyboard alone; what is kept; what is seen.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { leaveItem, leaveLink } from './core.mjs';
import { button, grade, inaccessible, notice, open, spotIn, stage } from './page.mjs';

const HASH = '#leave';
const zone = (page) => page.getByRole('button', { name: /^Zone: / });
const zoneWords = async (page) => (await zone(page).getAttribute('aria-label')) ?? '';
const spot = (page, place) => spotIn(page, 'leave-drawing', place);
const words = (page) => page.locator('#leave-words').textContent();
const dealt = (page) => page.locator('#leave-drawing').getByRole('img', { name: /^cue ball/i }).first().waitFor();
const layout = (page) =>
  page.locator('#leave-drawing').getByRole('img', { name: /ball,/i }).evaluateAll((balls) => balls.map((ball) => ball.getAttribute('aria-label')));

/** Drags with the mouse from one place on the table to another, m. */
async function drag(page, from, to) {
  await page.mouse.move(...(await spot(page, from)));
  await page.mouse.down();
  await page.mouse.move(...(await spot(page, to)), { steps: 4 });
  await page.mouse.up();
}

/** Marks a zone in the middle of the table. */
async function mark(page) {
  await drag(page, [1.0, 0.5], [1.5, 0.8]);
  await zone(page).waitFor();
}

async function play(page) {
  await button(page, 'Play').click();
  await grade(page).waitFor();
}

/** Changes what the page says of the stroke, and waits until it does. */
async function restroke(page, act) {
  const before = await words(page);
  await act();
  await page.waitForFunction((old) => document.getElementById('leave-words').textContent !== old, before);
}

test('by mouse: mark, move, size and turn a zone, set the stroke, call the path, play, deal again', async () => {
  const { page, close } = await open({ hash: HASH });
  await dealt(page);
  const first = await layout(page);
  assert.ok(await button(page, 'Play').isDisabled(), 'no zone is marked yet');
  await mark(page);
  assert.match(await zoneWords(page), /50 by 30 cm, turned 0°/);

  await drag(page, [1.25, 0.65], [1.45, 0.75]);
  const moved = await zoneWords(page);
  assert.match(moved, /50 by 30 cm/, 'it keeps its size');
  await drag(page, [1.7, 0.75], [1.8, 0.75]);
  assert.match(await zoneWords(page), /70 by 30 cm/, 'an end stretches both ways');
  // At one moment: a drawing that comes between puts another there.
  const arm = await page.evaluate(() => document.querySelector('#leave-drawing .zone-grip.turn').getBoundingClientRect().toJSON());
  await page.mouse.move(arm.x + arm.width / 2, arm.y + arm.height / 2);
  await page.mouse.down();
  await page.mouse.move(...(await spot(page, [1.75, 1.05])), { steps: 4 });
  await page.mouse.up();
  assert.match(await zoneWords(page), /turned 4[4-6]°/);
  await button(page, 'Undo').click();
  await button(page, 'Undo').click();
  await page.locator(`#leave-drawing [aria-label="${moved}"]`).waitFor();
  await button(page, 'Redo').click();
  await page.locator('#leave-drawing [aria-label*="70 by 30 cm"]').waitFor();

  const face = await page.getByRole('slider', { name: /tip/i }).boundingBox();
  await restroke(page, () => page.mouse.click(face.x + 0.6 * face.width, face.y + 0.35 * face.height));
  assert.match(await words(page), /high.*right/i);
  const ruler = await page.getByRole('slider', { name: 'Speed' }).boundingBox();
  await restroke(page, () => page.mouse.click(ruler.x + 0.4 * ruler.width, ruler.y + 0.3 * ruler.height));
  const struck = await words(page);
  await restroke(page, () => button(page, 'Undo').click());
  await restroke(page, () => button(page, 'Redo').click());
  assert.equal(await words(page), struck);
  assert.equal(await page.locator('#leave-drawing .real').count(), 0, 'the outcome is not shown before the play');

  await button(page, 'Call the path').click();
  await page.mouse.click(...(await spot(page, [1.9, 0.4])));
  await page.getByRole('button', { name: /^Stop: / }).waitFor();
  await play(page);
  const value = Number(await page.locator('#leave-mark').textContent());
  assert.ok(value >= 0 && value <= 100, `a mark of ${value}`);
  await page.getByRole('option', { name: /called path/ }).waitFor();
  assert.equal(await page.locator('#leave-drawing .zone-best').count(), 1);
  assert.ok((await page.locator('#leave-drawing .stops .stops').getAttribute('d')).split('M').length > 100, 'the stops are drawn');

  await page.waitForTimeout(650);
  await button(page, 'Deal').click();
  await grade(page).waitFor({ state: 'hidden' });
  assert.notDeepEqual(await layout(page), first);
  assert.equal(await zone(page).count(), 0);
  await close();
});

test('by touch: tap for a zone, drag it with the spot shown beside the finger, set the tip, play by the hand', async () => {
  const { page, context, close } = await open({ hash: HASH, viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  await dealt(page);
  const touch = await context.newCDPSession(page);
  const send = (type, at) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: at ? [{ x: at[0], y: at[1] }] : [] });
  await page.touchscreen.tap(...(await spot(page, [1.0, 0.6])));
  await zone(page).waitFor();
  const before = await zoneWords(page);
  const [from, to] = [await spot(page, [1.0, 0.6]), await spot(page, [1.6, 0.7])];
  await send('touchStart', from);
  await send('touchMove', [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  await send('touchMove', to);
  await page.locator('#leave-table .loupe[visibility="visible"]').waitFor();
  await send('touchEnd');
  await page.locator('#leave-table .loupe[visibility="visible"]').waitFor({ state: 'detached' });
  assert.notEqual(await zoneWords(page), before);
  const face = await page.getByRole('slider', { name: /tip/i }).boundingBox();
  await restroke(page, () => page.touchscreen.tap(face.x + 0.35 * face.width, face.y + 0.4 * face.height));
  assert.match(await words(page), /high.*left/i);
  await button(page, 'Play the exact stroke').tap();
  await page.locator('#leave-exact[aria-pressed="false"]').waitFor();
  await button(page, 'Play').tap();
  await grade(page).waitFor();
  await close();
});

test('by keyboard alone: zone, stroke, path, play, read, deal', async () => {
  const { page, close } = await open({ hash: HASH });
  await dealt(page);
  const status = page.locator('#live');
  assert.match(await status.textContent(), /ball, .*lengths/i, 'layout and stroke are told');
  await page.keyboard.press('z');
  await zone(page).waitFor();
  assert.ok(await zone(page).evaluate((one) => one === document.activeElement), 'the keyboard stands on the zone');
  const before = await zoneWords(page);
  for (const key of ['ArrowLeft', 'ArrowUp', '+', ']']) {
    const was = await zoneWords(page);
    await page.keyboard.press(key);
    await page.waitForFunction((old) => document.querySelector('#leave-drawing .zone')?.getAttribute('aria-label') !== old, was);
    assert.match(await status.textContent(), /^Zone: /, `${key} is told`);
  }
  assert.notEqual(await zoneWords(page), before);
  await page.keyboard.press('Control+z');
  await page.waitForFunction(() => / 0°/.test(document.querySelector('#leave-drawing .zone')?.getAttribute('aria-label') ?? ''));

  await page.getByRole('slider', { name: /tip/i }).focus();
  await restroke(page, () => page.keyboard.press('ArrowRight'));
  await page.getByRole('slider', { name: 'Speed' }).focus();
  await restroke(page, () => page.keyboard.press('ArrowUp'));
  assert.match(await status.textContent(), /lengths/);

  await page.keyboard.press('c');
  const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');
  assert.match(await focused(), /ghost ball/i);
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: /^(Stop|Last point)/ }).waitFor();
  await page.keyboard.press('x');
  assert.match(await status.textContent(), /by the hand/);
  await page.keyboard.press('p');
  await grade(page).waitFor();
  assert.match(await status.textContent(), /^Zone: \d+ of 100\. .*called path/);
  await grade(page).focus();
  await page.keyboard.press('ArrowDown');
  assert.ok(await page.evaluate(() => document.getElementById(document.activeElement.getAttribute('aria-activedescendant'))?.textContent));
  const first = await layout(page);
  await page.waitForTimeout(650);
  await page.keyboard.press('d');
  await grade(page).waitFor({ state: 'hidden' });
  assert.notDeepEqual(await layout(page), first);
  await close();
});

test('the zone is typed in numbers, in centimetres or in balls, and what cannot be is refused by its name', async () => {
  const { page, close } = await open({ hash: HASH });
  await dealt(page);
  await page.keyboard.press('t');
  const dialog = page.getByRole('dialog', { name: 'Type the zone' });
  const say = async (values) => {
    for (const [name, value] of Object.entries(values)) await dialog.getByLabel(name).fill(value);
    await page.keyboard.press('Enter');
  };
  await say({ 'From the head, 0 to 8': '9', 'From the right, 0 to 4': '1', 'Half its length': '20', 'Half its width': '10', 'Turned, degrees': '30' });
  await dialog.getByRole('status').filter({ hasText: /^From the head, 0 to 8: must lie from 0 to 8\.$/ }).waitFor();
  assert.equal(await zone(page).count(), 0, 'a zone beside the table is refused');
  await say({ 'From the head, 0 to 8': '5,5' });
  await dialog.getByRole('status').filter({ hasText: 'Zone: diamond 5.5 from the head, 1 from the right, 40 by 20 cm, turned 30°.' }).waitFor();
  await dialog.getByLabel('Sizes in').selectOption('balls');
  assert.equal(await dialog.getByLabel('Half its length').inputValue(), '3.5');
  await say({ 'Half its width': '0.1' });
  await dialog.getByRole('status').filter({ hasText: /^Half its width: must lie from 0\.2 to 22\.2 balls/ }).waitFor();
  await say({ 'Half its width': '' });
  await dialog.getByRole('status').filter({ hasText: /^Half its width: give a number/ }).waitFor();
  await say({ 'Half its width': '3.5' });
  await dialog.getByRole('status').filter({ hasText: /40 by 40 cm/ }).waitFor();
  assert.deepEqual(await inaccessible(page), []);
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'hidden' });
  assert.match(await zoneWords(page), /40 by 40 cm, turned 30°/);
  await page.keyboard.press('Control+z');
  await page.locator('#leave-drawing [aria-label*="40 by 20 cm"]').waitFor();
  await close();
});

test('a reload keeps zone, stroke, path and hand, and that they were played', async () => {
  const { page, close } = await open({ hash: HASH });
  await dealt(page);
  await mark(page);
  await page.getByRole('slider', { name: /tip/i }).focus();
  await restroke(page, () => page.keyboard.press('ArrowRight'));
  await page.keyboard.press('x');
  await page.locator('#leave-exact[aria-pressed="false"]').waitFor();
  const kept = async () => [await layout(page), await page.locator('#leave-drawing .zone').getAttribute('aria-label'), await words(page), await page.locator('#leave-exact').getAttribute('aria-pressed')];
  const before = await kept();
  await page.reload();
  await zone(page).waitFor();
  assert.deepEqual(await kept(), before);
  await play(page);
  const read = () => page.locator('#leave-lines').textContent();
  const [marked, stopped] = [await read(), await page.locator('#leave-drawing .ball.cue').getAttribute('transform')];
  await page.reload();
  await grade(page).waitFor();
  assert.equal(await read(), marked);
  assert.equal(await page.locator('#leave-drawing .ball.cue').getAttribute('transform'), stopped, 'the same stroke of the hand is shown');
  await close();
});

test('the back button goes to the item before, and between the parts', async () => {
  const { page, close } = await open({ hash: HASH });
  await dealt(page);
  await mark(page);
  const [item, marked] = [await layout(page), await zoneWords(page)];
  await button(page, 'Deal').click();
  await zone(page).waitFor({ state: 'detached' });
  await page.goBack();
  await zone(page).waitFor();
  assert.deepEqual(await layout(page), item);
  assert.equal(await zoneWords(page), marked);
  await page.getByRole('link', { name: 'Read' }).click();
  await page.locator('#read-drawing').getByRole('img', { name: /^cue ball/i }).first().waitFor();
  assert.ok(await page.locator('#leave').isHidden());
  await page.getByRole('link', { name: 'Leave' }).click();
  await zone(page).waitFor();
  assert.equal(await zoneWords(page), marked);
  await close();
});

test('a link carries the sender’s answer, sealed until the own one was played', async () => {
  const { sealed } = leaveItem(2, 7);
  const { page, close } = await open({ hash: sealed });
  await dealt(page);
  assert.equal(await page.locator('#leave-drawing .zone-sender').count(), 0);
  await mark(page);
  await play(page);
  assert.equal(await page.locator('#leave-drawing .zone-sender').count(), 1);
  const own = await page.locator('#leave-mark').textContent();
  await page.getByRole('button', { name: /^Theirs \d+/ }).click();
  await page.getByRole('heading', { name: 'Mark for the sender’s zone' }).waitFor();
  assert.match(await page.getByRole('button', { name: /^Yours/ }).textContent(), new RegExp(own));
  await button(page, 'Share').click();
  await page.getByRole('status').filter({ hasText: /cop/i }).waitFor();
  const link = await page.getByRole('textbox', { name: /link/i }).inputValue();
  assert.match(link, /#leave=/);
  await close();
});

test('why: the best stroke beside the own one, found in steps, and given up when it is closed', async () => {
  const { page, close } = await open({ hash: leaveItem(2, 7).hash });
  await dealt(page);
  await mark(page);
  await play(page);
  await button(page, 'Why').click();
  const list = page.getByRole('listbox', { name: /best stroke/i });
  await list.getByRole('option', { name: /best stroke searching, \d+\s%/i }).waitFor();
  assert.equal(await list.getByRole('option', { selected: true }).textContent().then((text) => /your stroke/.test(text)), true);
  await button(page, 'Why').click();
  await list.waitFor({ state: 'hidden' });
  await page.keyboard.press('w');
  await list.getByRole('option', { name: /best stroke \d+\s%, yours \d+\s%/ }).waitFor();
  await list.getByRole('option', { name: /best stroke/ }).click();
  await page.locator('#leave-hint').filter({ hasText: /^(Best found|Yours is as good as any found): / }).waitFor();
  assert.ok((await page.locator('#leave-drawing .replayed').count()) >= 2, 'its path is drawn');
  const bars = page.getByRole('list', { name: /margins/i }).getByRole('listitem');
  // Its margins come after it.
  await bars.first().locator('.margin-bar').nth(1).waitFor();
  assert.deepEqual(await bars.evaluateAll((all) => all.map((one) => one.firstElementChild.textContent)), ['speed', 'aim', 'side', 'height']);
  assert.match(await bars.first().getAttribute('aria-label'), /^speed: yours .*; best from .*then .* to /);
  assert.equal(await bars.first().locator('.margin-bar').count(), 2, 'one bar for each stroke');
  assert.match(await page.locator('#leave-approach').textContent(), /^Yours comes in at \d+° to the line of the next shot(, the best at \d+°)?; /);

  // The map of the next ball is one choice more.
  await list.getByRole('option', { name: /map of the \d+/ }).click();
  await page.locator('#leave-table.mapped').waitFor();
  await page.locator('#leave canvas.heat:not([hidden])').waitFor();
  await page.locator('#leave-hint').filter({ hasText: /^The chance of potting the \d+ from each place/ }).waitFor();
  assert.match(await page.locator('#leave-drawing path.contour').getAttribute('d'), /^M/, 'the line of one half');
  assert.match(await page.locator('#leave-scale-of').textContent(), /^chance of potting the \d+/);
  assert.deepEqual(await inaccessible(page), []);
  await list.getByRole('option', { name: /best stroke/ }).click();
  await page.locator('#leave canvas.heat[hidden]').waitFor({ state: 'attached' });
  assert.ok(await page.locator('#leave-scale').isHidden());
  assert.deepEqual(await inaccessible(page), []);
  await close();
});

test('an item of the Bench: the pocket is for the player to choose, and the zone that is asked for is marked', async () => {
  const { item } = leaveItem(2, 7);
  const { on, next } = item.demand;
  const asked = { x: 1.3, y: 0.7, long: 0.6, wide: 0.4, turn: 30 };
  const { page, close } = await open({ hash: leaveLink({ ...item, demand: { on, next, zone: asked } }) });
  await dealt(page);
  assert.match(await zoneWords(page), /60 by 40 cm, turned 30°/);
  const pockets = page.getByRole('button', { name: /^Aim at the/ });
  assert.equal(await pockets.count(), 6);
  const chosen = page.locator('#leave-drawing .aim-pocket[aria-pressed="true"]');
  const first = await chosen.getAttribute('aria-label');
  const other = page.locator('#leave-drawing .aim-pocket[aria-pressed="false"]').first();
  const name = await other.getAttribute('aria-label');
  await other.focus();
  await page.keyboard.press('Enter');
  await page.locator(`#leave-drawing .aim-pocket[aria-pressed="true"][aria-label="${name}"]`).waitFor();
  assert.match(await page.locator('#live').textContent(), /\w.*\.$/);
  await button(page, 'Undo').click();
  await page.locator(`#leave-drawing .aim-pocket[aria-pressed="true"][aria-label="${first}"]`).waitFor();
  const hole = await page.locator(`#leave-drawing .aim-pocket[aria-label="${name}"] .halo`).boundingBox();
  await page.mouse.click(hole.x + hole.width / 2, hole.y + hole.height / 2);
  await page.locator(`#leave-drawing .aim-pocket[aria-pressed="true"][aria-label="${name}"]`).waitFor();
  await play(page);
  await close();
});

test('a stroke that cannot pot is refused in words, and can be played all the same', async () => {
  const { page, close } = await open({ hash: leaveItem(2, 7).hash });
  await dealt(page);
  await mark(page);
  await page.getByRole('slider', { name: 'Speed' }).focus();
  for (let k = 0; k < 40 && (await page.locator('#leave-advice').isHidden()); k++) await page.keyboard.press('ArrowDown');
  assert.match(await page.locator('#leave-advice').textContent(), /\w.*\.$/);
  await play(page);
  await close();
});

test('spoilt entries and broken links are told, and a fresh item is dealt', async () => {
  const { page, url, close } = await open({ hash: HASH });
  await dealt(page);
  await mark(page);
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('leaveline.leave'));
    kept.entries.at(-1).item.shot.balls[0].x = 'far';
    localStorage.setItem('leaveline.leave', JSON.stringify(kept));
  });
  await page.goto('about:blank');
  await page.goto(`${url}#leave`);
  await notice(page).filter({ hasText: /cannot be opened/ }).waitFor();
  await dealt(page);
  await page.evaluate(() => (location.hash = '#leave=1.broken'));
  await notice(page).filter({ hasText: /This link cannot be opened/ }).waitFor();
  await dealt(page);
  await close();
});

const SIZES = [
  [360, 640], [375, 667], [360, 800], [390, 844], [412, 915], [430, 932],
  [640, 360], [667, 375], [800, 360], [844, 390], [932, 430],
  [768, 1024], [1024, 768], [1280, 720], [1366, 640], [1366, 768], [1920, 1080],
];

const measure = () => {
  const { scrollWidth, scrollHeight } = document.documentElement;
  const box = (selector) => document.querySelector(selector).getBoundingClientRect();
  const table = box('#leave-drawing .rail');
  const area = ({ width, height }) => width * height;
  const others = ['#leave .stroke', '#leave .grade', '#leave .tools', '#leave .actions', '.head', '#leave .title', '#leave .hint'].map((name) => [name, area(box(name))]);
  const visible = [...document.querySelectorAll('button, select')].filter((one) => one.checkVisibility());
  const parts = ['#leave .gauges', '#leave .words', '#leave .played-by', '#leave .tools', '#leave .hint', '#leave .actions', '#leave .title', '#leave-lines', '#leave-drawing .rail']
    .map((name) => [name, document.querySelector(name)])
    .filter(([, one]) => one.checkVisibility() && one.getBoundingClientRect().width > 0)
    .map(([name, one]) => [name, one.getBoundingClientRect()]);
  const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1;
  return {
    scrolls: [scrollWidth - innerWidth, scrollHeight - innerHeight],
    inner: [...document.querySelectorAll('#leave .side, #leave .grade, #leave .lines')].map((one) => one.scrollHeight - one.clientHeight).filter((more) => more > 0),
    cut: visible.filter((one) => { const { right, bottom, left, top } = one.getBoundingClientRect(); return left < 0 || top < 0 || right > innerWidth || bottom > innerHeight; }).map((one) => one.id),
    small: visible.filter((one) => { const { width, height } = one.getBoundingClientRect(); return width < 44 || height < 44; }).map((one) => one.id),
    table: [table.left >= 0, table.top >= 0, table.right <= innerWidth, table.bottom <= innerHeight],
    larger: others.filter(([, size]) => size > area(table)).map(([name]) => name),
    covered: parts.flatMap(([a, one], k) => parts.slice(k + 1).filter(([, other]) => over(one, other)).map(([b]) => `${a} ${b}`)),
  };
};
const FITS = { scrolls: [0, 0], inner: [], cut: [], small: [], table: [true, true, true, true], larger: [], covered: [] };

test('Leave is one screen without scrolling, before and after an answer was played', async () => {
  const place = await stage();
  const { sealed } = leaveItem(6, 3);
  const wrong = [];
  for (const [width, height] of SIZES) {
    const { page, close } = await open({ place, hash: sealed, viewport: { width, height }, hasTouch: width < 1100 });
    await dealt(page);
    const check = async (what) => {
      await page.waitForTimeout(60);
      const found = await page.evaluate(measure);
      for (const [name, value] of Object.entries(found)) {
        if (JSON.stringify(value) !== JSON.stringify(FITS[name])) wrong.push(`${width} x ${height}, ${what}: ${name} ${JSON.stringify(value)}`);
      }
    };
    await check('dealt');
    await mark(page);
    await page.keyboard.press('c');
    await page.mouse.click(...(await spot(page, [1.9, 0.4])));
    await page.getByRole('button', { name: /^Stop: / }).waitFor();
    await check('called');
    await play(page);
    await check('played');
    await close();
  }
  await place.close();
  assert.deepEqual(wrong, []);
});

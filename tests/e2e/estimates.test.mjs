// Estimates of Eye in the Log: kept as they are answered, and shown again.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { button, inaccessible, open } from './page.mjs';

const SECOND_PRESS = 450;

const asks = (page) => page.locator('#eye-drawing .eye-handle[tabindex]').waitFor();
const told = (page, next) => button(page, next).waitFor();
const number = (page, text) => page.locator('#eye-title-number').filter({ hasText: text }).waitFor();
const visit = (page, hash) => page.evaluate((to) => (location.hash = to), hash);
const counted = (page, n) => page.locator('#log-title-calls').filter({ hasText: new RegExp(`^${n}$`) }).waitFor();

for (const [name, options] of /** @type {const} */ ([
  ['on a desktop', { viewport: { width: 1366, height: 768 } }],
  ['on a phone', { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }],
])) {
  test(`${name} an estimate goes into the Log, is counted with its skill and shown again`, async () => {
    const { page, close } = await open({ hash: '#eye', ...options });
    await asks(page);
    await page.locator('.eye-handle').focus();
    await page.keyboard.press('ArrowRight');
    await page.locator('#eye-play:enabled').waitFor();
    await page.waitForTimeout(SECOND_PRESS);
    await page.keyboard.press('Enter');
    await told(page, 'Next');
    const words = await page.locator('#eye-hint').textContent();
    const mark = await page.locator('#eye-mark').textContent();
    await visit(page, '#log');
    await counted(page, 1);
    assert.equal(await page.locator('#log-skills .log-skill').count(), 1, 'it tells of one skill');
    await page.locator('#log-view').selectOption('list');
    const call = page.locator('#log-list > li').first();
    await call.filter({ hasText: new RegExp(`Eye, [a-z ,]+: ${mark} points, `) }).waitFor();
    assert.deepEqual(await inaccessible(page), []);
    await call.getByRole('button', { name: /^Show again/ }).click();
    await told(page, 'To the round');
    await number(page, 'From the Log');
    assert.equal(await page.locator('#eye-hint').textContent(), words, 'with its answer and its truth');
    await page.locator('circle.eye-truth').waitFor();
    assert.deepEqual(await inaccessible(page), []);
    await page.reload();
    await told(page, 'To the round');
    assert.equal(await page.locator('#eye-hint').textContent(), words, 'also after a reload');
    await page.waitForTimeout(SECOND_PRESS);
    await button(page, 'To the round').click();
    await asks(page);
    await number(page, '2 of 20');
    await visit(page, '#log');
    await counted(page, 1);
    await close();
  });
}

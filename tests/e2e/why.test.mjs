// Why: the shot again with one thing changed, chosen by key, mouse or finger.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { button, dealt, draw, grade, inaccessible, open, play } from './page.mjs';

const choices = (page) => page.getByRole('listbox', { name: /one thing changed/i });
const ghosts = (page) => page.locator('#read-table .replay path').count();

for (const viewport of [{ width: 1366, height: 768 }, { width: 390, height: 844 }, { width: 667, height: 375 }]) {
  test(`a changed shot is drawn beside the real one, ${viewport.width} wide`, async () => {
    const { page, close } = await open({ viewport });
    await dealt(page);
    await draw(page);
    await play(page);
    await button(page, 'Why').click();
    const options = choices(page).getByRole('option');
    await options.first().waitFor();
    const n = await options.count();
    assert.ok(n >= 3 && n <= 4, `${n} changes differ`);
    assert.equal(await grade(page).isVisible(), false, 'the grade steps back');
    assert.ok((await ghosts(page)) >= 1, 'the first is drawn at once');
    await page.keyboard.press('ArrowDown');
    const chosen = choices(page).getByRole('option', { selected: true });
    const label = await options.nth(1).locator('.label').textContent();
    await chosen.filter({ hasText: label }).waitFor();
    await page.locator('#live').filter({ hasText: label }).waitFor({ state: 'attached' });
    await options.nth(2).click();
    await chosen.filter({ hasText: await options.nth(2).locator('.label').textContent() }).waitFor();
    assert.deepEqual(await inaccessible(page), [], 'accessible');
    const over = await page.evaluate(() => document.documentElement.scrollHeight - innerHeight);
    assert.ok(over <= 0, `the page scrolls by ${over} px`);
    await page.keyboard.press('w');
    await grade(page).waitFor();
    assert.equal(await ghosts(page), 0, 'nothing of it is left');
    await close();
  });
}

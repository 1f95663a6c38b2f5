// Times the page with a Log of many calls: node tests/bench/log-speed.mjs [CALLS], after scripts/build.
// The calls are made by the core, of items that differ in their stops; "processor" is what the main thread's tasks took,
// which does not count what else the machine does meanwhile.
import { performance } from 'node:perf_hooks';
import { dealt, open } from '../e2e/page.mjs';
import { loggedLines } from '../e2e/core.mjs';

const CALLS = Number(process.argv[2] ?? 50_000);
const begun = performance.now();
const lines = loggedLines(CALLS, { items: 200 });
const row = (what, ms, busy) => console.log(`| ${what} | ${Math.round(ms)} | ${busy === undefined ? '' : Math.round(busy)} |`);
console.log(`${CALLS} calls, ${(lines.reduce((sum, { length }) => sum + length, 0) / 1e6).toFixed(1)} MB\n\n| | ms | processor, ms |\n| -- | --: | --: |`);
row('made in Node', performance.now() - begun);

const { page, context, url, close } = await open({ hash: '#log' });
await page.locator('#log-hint').filter({ hasText: 'Every call that you make' }).waitFor();
const session = await context.newCDPSession(page);
await session.send('Performance.enable', { timeDomain: 'threadTicks' });
const busy = async () => 1000 * (await session.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration').value;

/** Times what is done until something is seen; `anew` says that the page is another then, whose processor's time begins at nil. */
async function timed(what, act, seen, anew = false) {
  const [from, used] = [performance.now(), anew ? 0 : await busy()];
  await act();
  await seen();
  row(what, performance.now() - from, (await busy()) - used);
}
const drawn = () => page.waitForFunction(() => document.querySelector('#log-plot canvas'));

/** Times, in the page, from what a player does at something until there is another plot and the frame with it is painted. */
async function timedPlot(what, selector, value) {
  const used = await busy();
  const took = await page.evaluate(([selector, value]) => new Promise((done) => {
    const [old, from] = [document.querySelector('#log-plot canvas'), performance.now()];
    new MutationObserver((_, observer) => {
      if (!document.querySelector('#log-plot canvas') || old?.isConnected) return;
      observer.disconnect();
      requestAnimationFrame(() => setTimeout(() => done(performance.now() - from)));
    }).observe(document.querySelector('#log-plot'), { childList: true, subtree: true });
    const at = document.querySelector(selector);
    if (value === undefined) return at.click();
    at.value = value;
    at.dispatchEvent(new Event('change', { bubbles: true }));
  }), [selector, value]);
  row(what, took, (await busy()) - used);
}

const file = { name: 'log.jsonl', mimeType: 'application/jsonl', buffer: Buffer.from(lines.join('\n')) };
if (file.buffer.length > 45_000_000) {
  // Files of this size are handed over by their name.
  const { writeFile } = await import('node:fs/promises');
  await writeFile('/tmp/leaveline-log.jsonl', file.buffer);
}
await timed('import', () => page.setInputFiles('#log-file', file.buffer.length > 45_000_000 ? '/tmp/leaveline-log.jsonl' : file), () =>
  page.locator('#log-import-dialog').getByText('came in').waitFor({ timeout: 600_000 }));
await page.locator('#log-import-dialog').getByRole('button', { name: 'Done' }).click();
await page.locator('#log-hint').filter({ hasText: 'Next' }).waitFor({ timeout: 60_000 });

await page.evaluate(() => localStorage.setItem('leaveline.part', 'read'));
for (let k = 0; k < 3; k++) await timed('start of the page, until an item is dealt', () => page.goto(`${url}?${k}`), () => dealt(page), true);
await timed('the Log is opened, until its plot is drawn', () => page.evaluate(() => (location.hash = '#log')), drawn);
for (const skill of ['stop-along', 'speed', 'heading-stun', 'rail-1']) {
  if (await page.locator(`[data-skill="${skill}"]`).count()) await timedPlot(`plot of ${skill}`, `[data-skill="${skill}"]`);
}
await timedPlot('the bias over time', '#log-view', 'time');
await timed('the list of calls', () => page.locator('#log-view').selectOption('list'), () => page.locator('#log-list > li').nth(49).waitFor());
await close();

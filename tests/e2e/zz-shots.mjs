import { button, dealt, draw, open, play, stage } from './page.mjs';
import { seeded, leaveItem } from './core.mjs';
import { host, kept, update } from './released.mjs';
const V = { phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }, desk: { viewport: { width: 1440, height: 900 } } };
const place = await stage();
for (const [v, o] of Object.entries(V)) for (const colorScheme of ['light', 'dark']) {
  const { hash, truth } = seeded(3, 5);
  const { page, close } = await open({ place, hash, colorScheme, ...o });
  await dealt(page); await draw(page, truth); await play(page);
  await button(page, 'Share').click();
  await page.getByRole('button', { name: 'Print…' }).waitFor();
  await page.waitForTimeout(200);
  await page.screenshot({ path: `/tmp/sheets/share-${v}-${colorScheme}.png` });
  if (colorScheme === 'dark') for (const n of ['Save the table as SVG', 'Save the table as PNG', 'Save the shot as a moving picture']) {
    const [d] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: n }).click()]);
    await d.saveAs(`/tmp/sheets/${v}-${d.suggestedFilename()}`);
  }
  await page.getByRole('button', { name: 'Print…' }).click();
  await page.getByRole('status').filter({ hasText: /1 sheet/ }).waitFor();
  await page.screenshot({ path: `/tmp/sheets/view-${v}-${colorScheme}.png` });
  await close();
}
{ const { page, close } = await open({ place, hash: leaveItem(2,5).hash, viewport: {width:1440,height:900} });
  await page.goto(page.url().replace(/#.*/, '#bench')); await page.locator('#bench-table .ball.cue').waitFor(); await page.keyboard.press('h'); await page.waitForTimeout(4000);
  await button(page, 'Share').click(); await page.getByRole('button', { name: 'Print…' }).waitFor();
  const [d] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the table as PNG' }).click()]);
  await d.saveAs('/tmp/sheets/bench-map.png'); await close(); }
await place.close();

{ const h = await host(); await h.publish('1.0.0');
for (const [v, o] of Object.entries(V)) for (const colorScheme of ['light', 'dark']) { await h.publish('1.0.0');
  const { page, close } = await open({ place: { url: h.url }, colorScheme, ...o }); await dealt(page); await kept(page); await h.publish('1.1.0'); await update(page);
  await button(page, 'Load it').waitFor(); await page.screenshot({ path: `/tmp/sheets/update-${v}-${colorScheme}.png` });
  if (v === 'desk' && colorScheme === 'light') { await button(page, 'Later').click(); await button(page, 'Limits and keys').click(); await page.screenshot({ path: `/tmp/sheets/about.png` }); }
  await close(); } await h.close(); }

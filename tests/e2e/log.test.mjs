// The Log: what is kept of every graded call, shown, deleted, exported and imported; and every fault of a storage.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { clearItem, leaveItem, loggedLines, seeded } from './core.mjs';
import { button, draw, grade, inaccessible, notice, open, play, spotIn } from './page.mjs';

const LINES = loggedLines(120);
const hint = (page, text) => page.locator('#log-hint').filter({ hasText: text }).waitFor();
const calls = (page) => page.locator('#log-list > li');
const cell = (page) => page.locator('#log-title-calls');
const counted = (page, n) => cell(page).filter({ hasText: new RegExp(`^${n}$`) }).waitFor();
const view = (page, name) => page.locator('#log-view').selectOption(name);
const visit = (page, hash) => page.evaluate((to) => (location.hash = to), hash);

/** Brings lines into the Log, and gives what was said of them. */
async function bring(page, lines) {
  await page.setInputFiles('#log-file', { name: 'log.jsonl', mimeType: 'application/jsonl', buffer: Buffer.from(lines.join('\n')) });
  const dialog = page.locator('#log-import-dialog');
  await dialog.getByText('came in').waitFor();
  const said = await dialog.textContent();
  await dialog.getByRole('button', { name: 'Done' }).click();
  return said;
}

/** Does something with the database itself, as another program or an older page would. The policy forbids functions made of text, but not the browser's own console. */
const inDatabase = (page, version, stores, act) =>
  page.evaluate(`new Promise((done, fail) => {
    const asked = indexedDB.open('leaveline-log'${version ? `, ${version}` : ''});
    asked.onupgradeneeded = () => ${JSON.stringify(stores)}.forEach((store) => asked.result.createObjectStore(store, { keyPath: 'id' }));
    asked.onerror = () => fail(asked.error);
    asked.onsuccess = () => {
      const db = asked.result;
      const tx = db.transaction([...db.objectStoreNames], 'readwrite');
      ${act}
      tx.oncomplete = () => (db.close(), done());
      tx.onerror = () => fail(tx.error);
    };
  })`);

test('graded calls of Read and Leave are kept, once each, shown again and deleted', async () => {
  const read = seeded(3, 5);
  const leave = leaveItem(1, 4);
  const { page, close } = await open({ hash: read.hash });
  await page.locator('#read-drawing').waitFor();
  await draw(page, read.truth);
  await play(page);
  await visit(page, '#log');
  await counted(page, 1);
  await page.reload();
  await counted(page, 1);
  await visit(page, '#read');
  await grade(page).waitFor();
  await visit(page, leave.sealed);
  await page.locator('#leave-drawing').waitFor();
  await page.mouse.click(...(await spotIn(page, 'leave-drawing', [1.3, 0.7])));
  await page.locator('#leave-drawing').getByRole('button', { name: /^Zone: / }).waitFor();
  await button(page, 'Play').click();
  await page.locator('#leave-mark').filter({ hasText: /\d/ }).waitFor();
  await visit(page, '#log');
  await counted(page, 2);
  await view(page, 'list');
  await calls(page).first().filter({ hasText: /Leave 1: \d+ points, zone / }).waitFor();
  const before = calls(page).nth(1);
  await before.filter({ hasText: /Read 3: 100 points, stop spot on/ }).waitFor();
  assert.deepEqual(await inaccessible(page), []);
  await before.getByRole('button', { name: /^Show again/ }).click();
  await grade(page).waitFor();
  assert.ok(page.url().endsWith(read.hash), 'in its part, by its link');
  assert.equal(await page.locator('#read-mark').textContent(), '100', 'with its call');
  await visit(page, '#log');
  await counted(page, 2);
  await calls(page).nth(1).getByRole('button', { name: /^Delete/ }).click();
  await counted(page, 1);
  await calls(page).first().getByRole('button', { name: /^Show again/ }).click();
  await page.locator('#leave-mark').filter({ hasText: /\d/ }).waitFor();
  assert.match(page.url(), /#leave=/);
  await visit(page, '#log');
  await counted(page, 1);
  await page.reload();
  await counted(page, 1);
  await close();
});

test('a shot of Clear is kept, and told of anew once it is known what it was worth', async () => {
  const { page, close } = await open({ hash: clearItem({ game: 'group', balls: 1 }).hash });
  await page.locator('#clear-drawing').getByRole('img', { name: /^cue ball/i }).first().waitFor();
  await page.waitForFunction(() => !document.getElementById('clear-play').disabled);
  await button(page, 'Play').click();
  await page.getByRole('listbox', { name: /the shots so far/i }).getByRole('option').first().waitFor();
  await visit(page, '#log');
  await counted(page, 1);
  await page.locator('#log-skills').getByRole('button', { name: /Choice of the shot/ }).waitFor({ timeout: 120_000 });
  await counted(page, 1);
  await close();
});

test('a player who calls every stop too far on is told so, and every plot has its table', async () => {
  const { page, close } = await open({ hash: '#log' });
  await hint(page, 'Every call that you make');
  assert.match(await bring(page, LINES), /120 calls came in\./);
  await counted(page, 120);
  await page.locator('#log-said').filter({ hasText: /You call the stop \d\.\d balls too far on \(\d\.\d to \d\.\d; 120 calls\)/ }).waitFor();
  assert.doesNotMatch(await page.locator('#log-said').textContent(), /cushion|heading/i, 'rails and headings were called right');
  await page.locator('#log-skills').getByRole('button', { name: /^Stop along the path/ }).click();
  for (const [name, head] of [['stops', 'Right of the call, balls'], ['time', 'Mean error']]) {
    await view(page, name);
    await page.locator('#log-plot canvas').waitFor();
    await page.locator('#log-numbers summary').click();
    await page.getByRole('columnheader', { name: head }).waitFor();
    assert.ok((await page.locator('#log-table tbody tr').count()) > 5);
    assert.deepEqual(await inaccessible(page), []);
    await page.locator('#log-numbers summary').click();
  }
  await page.locator('#log-skills').getByRole('button', { name: /^Length of the path/ }).press('Enter');
  await view(page, 'places');
  await page.locator('#log-caption').filter({ hasText: /^Length of the path, .*: on the line, what was called is what happened/ }).waitFor();
  await hint(page, /^Next: /);
  await button(page, 'Other…').click();
  await page.locator('#log-topics-dialog').getByRole('button', { name: /^headings with draw: / }).click();
  await page.waitForURL(/#read=/);
  await close();
});

test('a file gives back what it took, without doubles, and names bad lines', async () => {
  const { page, close } = await open({ hash: '#log' });
  await hint(page, 'Every call that you make');
  const lines = LINES.slice(0, 30);
  const spoilt = lines[3].replace('"success":', '"sucess":');
  assert.match(await bring(page, [...lines.slice(0, 20), '{"half', spoilt, ...lines.slice(10)]), /30 calls came in; 10 were here already; 2 lines could not be read\.Line 21: .*Line 22: sucess: unknown field/);
  await counted(page, 30);
  const coming = page.waitForEvent('download');
  await button(page, 'Export').click();
  const file = await (await coming).path();
  const text = await readFile(file, 'utf8');
  assert.deepEqual(text.trim().split('\n').slice(1).sort(), [...lines].sort(), 'each call as it came');
  await button(page, 'Delete…').click();
  const dialog = page.locator('#log-delete-dialog');
  await dialog.getByRole('button', { name: 'Everything: 30 calls' }).click();
  await dialog.getByRole('button', { name: 'Delete for good' }).click();
  await counted(page, 0);
  assert.match(await bring(page, [text]), /30 calls came in\./);
  await counted(page, 30);
  assert.match(await bring(page, [text]), /0 calls came in; 30 were here already\./);
  await page.locator('#log-skills').getByRole('button', { name: /Place on the (third|second) cushion/ }).first().click();
  await button(page, 'Delete…').click();
  const of = dialog.getByRole('button', { name: /that tell of/ });
  const gone = Number((await of.textContent()).match(/\d+/)[0]);
  await of.click();
  await dialog.getByRole('button', { name: 'Delete for good' }).click();
  await counted(page, 30 - gone);
  await close();
});

test('a database of the first version becomes this one', async () => {
  const { page, close } = await open({ hash: '#bench' });
  await page.locator('#bench-drawing').waitFor();
  const rows = LINES.slice(0, 12).map((line) => JSON.parse(line)).map((record) => ({ id: record.id, at: record.at, record }));
  await inDatabase(page, 1, ['records'], `for (const row of ${JSON.stringify(rows)}) tx.objectStore('records').put(row);`);
  await visit(page, '#log');
  await counted(page, 12);
  await view(page, 'list');
  await calls(page).nth(11).waitFor();
  await close();
});

test('one of the second, as it was before estimates were kept, becomes this one with its pages as they were', async () => {
  const { page, close } = await open({ hash: '#bench' });
  await page.locator('#bench-drawing').waitFor();
  const records = LINES.slice(0, 3).map((line) => JSON.parse(line));
  await page.evaluate(`new Promise((done, fail) => {
    const asked = indexedDB.open('leaveline-log', 2);
    asked.onupgradeneeded = () => {
      const db = asked.result;
      db.createObjectStore('records', { keyPath: 'id' }).createIndex('at', 'at');
      db.createObjectStore('pages', { keyPath: 'page' });
      db.createObjectStore('aside', { keyPath: 'id' });
    };
    asked.onerror = () => fail(asked.error);
    asked.onsuccess = () => {
      const tx = asked.result.transaction(['records', 'pages'], 'readwrite');
      const records = ${JSON.stringify(records)};
      for (const record of records) tx.objectStore('records').put({ id: record.id, at: record.at, page: 1, record });
      // A page of numbers as that version wrote it: of each call one skill.
      const numbers = records.flatMap(({ at }) => [8, at, 0, 3, 1, 10, 2, 2.5]);
      tx.objectStore('pages').put({ page: 1, ids: records.map(({ id }) => id), numbers: new Float64Array(numbers) });
      tx.oncomplete = () => (asked.result.close(), done());
      tx.onerror = () => fail(tx.error);
    };
  })`);
  await visit(page, '#log');
  await counted(page, 3);
  await page.locator('#log-skills').getByRole('button', { name: /^Length of the path 3 calls/ }).waitFor();
  await view(page, 'list');
  await calls(page).nth(2).waitFor();
  await bring(page, LINES.slice(3, 5));
  await counted(page, 5);
  await close();
});

test('a call outlasts a page that is closed before it is written', async () => {
  const { page, close } = await open({ hash: seeded(2, 9).hash });
  await page.locator('#read-drawing').waitFor();
  const waits = () => page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith('leaveline.call.')).length);
  // What keeps calls never comes.
  await page.route('**/js/log/keeper.js', () => {});
  await draw(page, seeded(2, 9).truth);
  await play(page);
  assert.equal(await waits(), 1, 'it lies there from the moment on');
  await page.unroute('**/js/log/keeper.js');
  await page.reload();
  await grade(page).waitFor();
  await visit(page, '#log');
  await counted(page, 1);
  assert.equal(await waits(), 0, 'and not longer than it has to');
  await page.reload();
  await counted(page, 1);
  await close();
});

test('the choice of the shot is practised on a layout of its own', async () => {
  const { page, close } = await open({ hash: '#log' });
  await hint(page, 'Every call that you make');
  await bring(page, LINES.slice(0, 12));
  await button(page, 'Other…').click();
  await page.locator('#log-topics-dialog').getByRole('button', { name: /^the choice of the shot: / }).click();
  await page.waitForURL(/#clear=/, { timeout: 120_000 });
  await page.locator('#clear-drawing').getByRole('img', { name: /^cue ball/i }).first().waitFor();
  // Clear by itself would deal a rotation, in which there is no choice.
  const kept = await page.waitForFunction(() => JSON.parse(localStorage.getItem('leaveline.clear') ?? 'null')?.entries.at(-1)?.item);
  const { game, level } = await kept.jsonValue();
  assert.deepEqual([game.kind, game.group.length, level], ['group', 3, 1]);
  await close();
});

test('spoilt records are put aside, a spoilt page is made anew, and the rest works', async () => {
  const { page, close } = await open({ hash: '#log' });
  await hint(page, 'Every call that you make');
  await bring(page, LINES.slice(0, 20));
  await counted(page, 20);
  await inDatabase(page, null, [], `
    const records = tx.objectStore('records');
    records.getAll().onsuccess = ({ target }) => {
      const [one, other] = target.result;
      records.put({ ...one, record: { ...one.record, mark: 'seven' } });
      records.put({ ...other, record: 'gone' });
    };
    tx.objectStore('pages').put({ page: 1, ids: ['nobody'], numbers: 'spoilt' });`);
  await page.reload();
  await notice(page).filter({ hasText: 'Some calls of the Log cannot be read' }).waitFor();
  await counted(page, 18);
  await page.locator('#log-storage').filter({ hasText: /2 calls could not be read and were put aside: / }).waitFor();
  await page.reload();
  await counted(page, 18);
  assert.match(await bring(page, LINES.slice(0, 20)), /2 calls came in; 18 were here already/, 'and come back from a file');
  await counted(page, 20);
  await close();
});

test('a full disk is told, holds the calls, and is written to when there is room', async () => {
  const { page, close } = await open({
    hash: seeded(2, 9).hash,
    init: () => {
      const { put } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.put = function full(...of) {
        if (!globalThis.isFull) return put.apply(this, of);
        this.transaction.abort();
        throw new DOMException('no room', 'QuotaExceededError');
      };
      globalThis.isFull = !localStorage.getItem('room');
    },
  });
  await page.locator('#read-drawing').waitFor();
  await draw(page, seeded(2, 9).truth);
  await play(page);
  await notice(page).filter({ hasText: 'The storage of this browser is full' }).waitFor();
  await visit(page, '#log');
  await counted(page, 1);
  await page.locator('#log-storage').filter({ hasText: '1 call could not be written and is held until it can be' }).waitFor();
  await page.reload();
  await counted(page, 1);
  await page.locator('#log-storage').filter({ hasText: '1 call could not be written' }).waitFor();
  await page.evaluate(() => {
    localStorage.setItem('room', 'yes');
    globalThis.isFull = false;
  });
  await bring(page, LINES.slice(0, 2));
  await counted(page, 3);
  await page.reload();
  await counted(page, 3);
  await close();
});

test('without any storage the page goes on, and says that nothing is kept', async () => {
  const { page, close } = await open({ hash: seeded(2, 9).hash, init: () => Object.defineProperty(globalThis, 'indexedDB', { value: undefined }) });
  await page.locator('#read-drawing').waitFor();
  await draw(page, seeded(2, 9).truth);
  await play(page);
  await notice(page).filter({ hasText: 'This browser keeps nothing for the Log' }).waitFor();
  await visit(page, '#log');
  await counted(page, 1);
  await page.locator('#log-storage').filter({ hasText: 'Nothing can be kept' }).waitFor();
  const coming = page.waitForEvent('download');
  await button(page, 'Export').click();
  const text = await readFile(await (await coming).path(), 'utf8');
  assert.equal(text.trim().split('\n').length, 2, 'what is held can be exported');
  await close();
});

test('two tabs see each other’s calls, and a newer page gets the database', async () => {
  const { page, url, another, close } = await open({ hash: '#log' });
  await hint(page, 'Every call that you make');
  const tab = await another(`${url}#log`);
  await hint(tab, 'Every call that you make');
  await bring(page, LINES.slice(0, 5));
  await counted(tab, 5);
  await bring(tab, LINES.slice(3, 9));
  await counted(page, 9);
  // A newer page in a third tab changes the database: these let go of it, and say so.
  const third = await another(`${url}#bench`);
  await third.locator('#bench-drawing').waitFor();
  await inDatabase(third, 77, [], '');
  await notice(page).filter({ hasText: 'A newer version of this page is open in another tab' }).waitFor();
  await close();
});

test('on every screen the Log is one page that does not scroll, and accessible', async () => {
  for (const [width, height] of [[1440, 900], [390, 844], [844, 390]]) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, close } = await open({ hash: '#log', viewport: { width, height }, colorScheme, hasTouch: width < 1000 });
      await hint(page, 'Every call that you make');
      await bring(page, LINES.slice(0, 60));
      await counted(page, 60);
      for (const name of ['places', 'time', 'list']) {
        await view(page, name);
        const at = `${width} x ${height} ${colorScheme} ${name}`;
        assert.deepEqual(await inaccessible(page), [], at);
        const [high, wide] = await page.evaluate(() => [document.documentElement.scrollHeight - innerHeight, document.documentElement.scrollWidth - innerWidth]);
        assert.ok(high <= 0 && wide <= 0, `${at}: ${high} px too high, ${wide} px too wide`);
      }
      await close();
    }
  }
});

// Every state of every part, by the rules of axe: day and night, on a desktop and on a phone.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { clearItem, leaveItem, loggedLines, seeded, setLink } from './core.mjs';
import { button, dealt, draw, grade, handles, inaccessible, notice, open, play, spot, spotIn } from './page.mjs';

const DESKTOP = { width: 1366, height: 768 };
const PHONE = { width: 360, height: 640 };
const LOOKS = ['light', 'dark'].flatMap((colorScheme) => [DESKTOP, PHONE].map((viewport) => ({ colorScheme, viewport })));
/** Plans and guides take their time on a busy machine. */
const SLOW = { timeout: 120_000 };
/** A second press this soon is taken for a double press, ms. */
const SECOND_PRESS = 450;

const escape = (page) => page.keyboard.press('Escape');
const spoil = (name) => async (page) => {
  await page.evaluate((hash) => (location.hash = hash), `#${name}=2.broken`);
  await notice(page).filter({ hasText: /cannot be opened/ }).waitFor(SLOW);
};
const shared = async (page) => {
  await button(page, 'Share').click();
  await page.getByRole('status').filter({ hasText: /cop/i }).waitFor();
};
const zone = (page, part) => page.locator(`#${part}-drawing`).getByRole('button', { name: /^Zone: / });
const tap = async (page, part, place) => page.mouse.click(...(await spotIn(page, `${part}-drawing`, place)));
const cue = (page, part) => page.locator(`#${part}-drawing`).getByRole('img', { name: /^cue ball/i }).first().waitFor(SLOW);
const tab = (page, name) => page.getByRole('tab', { name }).click();
const opened = (name) => async (page) => {
  await button(page, name).click();
  await page.getByRole('dialog').first().waitFor();
};
const reveal = async (page) => {
  await page.keyboard.press('r');
  await page.locator('#sets-drawing .real').waitFor();
};
/** Presses a button of Clear when the shot before is no longer shown. */
const pressed = async (page, name) => {
  await page.waitForTimeout(650);
  await button(page, name).click(SLOW);
};

/** Moves the handle of Eye, and answers. */
const estimated = async (page) => {
  const handle = page.locator('#eye-drawing .eye-handle[tabindex]');
  const before = await handle.getAttribute('aria-valuetext');
  await handle.press('ArrowLeft');
  await page.waitForFunction((old) => document.querySelector('#eye-drawing .eye-handle').getAttribute('aria-valuetext') !== old, before);
  await page.waitForTimeout(SECOND_PRESS);
  await page.keyboard.press('Enter');
  await page.locator('#eye-play').filter({ hasText: 'Next' }).waitFor();
};
const file = (text) => ({ name: 'set.json', mimeType: 'application/json', buffer: Buffer.from(text) });

const SET = {
  version: 1, kind: 'set', title: 'Tuesday', note: 'For the third lesson.', pass: { mark: 60, need: 1 },
  entries: [{ title: 'First', note: 'Skill: look.', item: seeded(1, 3).question.item }, { title: '', note: '', item: leaveItem(1, 3).item }],
};

/** How each part is opened, and its states in the order in which a player meets them. */
const PARTS = {
  'Read and what all parts have': {
    hash: '',
    states: {
      'new, with the walk-through offered': async (page) => {
        await dealt(page);
        await button(page, 'Show me').waitFor();
      },
      'walk-through, what is asked': (page) => button(page, 'Show me').click(),
      'walk-through, the stop': (page) => button(page, 'Next').click(),
      'walk-through, the path': (page) => draw(page, [[1.4, 0.85]]),
      'walk-through, play': (page) => button(page, 'No cushion').click(),
      'walk-through, the grade': play,
      'after the walk-through': (page) => button(page, 'Done').click(),
      'dealt': async (page) => {
        await page.waitForTimeout(650);
        await button(page, 'Deal').click();
        await grade(page).waitFor({ state: 'hidden' });
      },
      'called': async (page) => {
        await draw(page);
        await page.mouse.move(...(await spot(page, [0.9, 0.3])));
      },
      'a point chosen': (page) => handles(page).nth(0).press(' '),
      'a point typed': opened('Type a point'),
      'a point refused': async (page) => {
        await page.locator('#type-along').fill('99');
        await page.locator('#type-form').getByRole('button', { name: 'Add' }).click();
        await page.locator('#type-said').filter({ hasText: /\w/ }).waitFor();
      },
      'graded': async (page) => {
        await escape(page);
        await play(page);
      },
      'a line lit': (page) => grade(page).getByRole('option').first().hover(),
      'why': async (page) => {
        await button(page, 'Why').click();
        await page.locator('#read-why-list').getByRole('option').first().click();
      },
      'shared': shared,
      'set up': async (page) => {
        await button(page, 'Set up…').click();
        await page.getByRole('dialog', { name: 'Set up on a table' }).getByRole('listitem').first().waitFor();
      },
      'added to a set': async (page) => {
        await escape(page);
        await button(page, 'Add to a set…').click();
        await page.getByRole('dialog', { name: 'Add to a set' }).waitFor();
      },
      'help, the words': async (page) => {
        await escape(page);
        if (await page.locator('#share-dialog').evaluate((dialog) => dialog.open)) await escape(page);
        await button(page, 'Help').click();
        await page.getByRole('radio', { name: 'Ghost ball' }).waitFor(SLOW);
      },
      'help, a word with a zone': (page) => page.getByRole('radio', { name: 'Zone' }).check({ force: true }),
      'help, the keys': (page) => tab(page, 'Keys'),
      'help, the settings': (page) => tab(page, 'Settings'),
      'help, the limits': (page) => tab(page, 'Limits'),
      'a broken link': async (page) => {
        await escape(page);
        await spoil('read')(page);
      },
    },
  },
  'Read by a link with a call': {
    hash: seeded(4, 6).sealed,
    states: {
      sealed: dealt,
      compared: async (page) => {
        await draw(page);
        await play(page);
        await page.locator('#read-sender').click();
      },
    },
  },
  Leave: {
    hash: leaveItem(2, 7).sealed,
    states: {
      'dealt': (page) => cue(page, 'leave'),
      'marked': async (page) => {
        await tap(page, 'leave', [1.3, 0.7]);
        await zone(page, 'leave').waitFor();
      },
      'called': async (page) => {
        await page.keyboard.press('c');
        await tap(page, 'leave', [1.9, 0.4]);
        await page.getByRole('button', { name: /^Stop: / }).waitFor();
      },
      'typed': async (page) => {
        await page.keyboard.press('t');
        await page.getByRole('dialog').first().waitFor();
      },
      'graded': async (page) => {
        await escape(page);
        await button(page, 'Play').click();
        await grade(page).waitFor(SLOW);
      },
      'why': async (page) => {
        await button(page, 'Why').click();
        await page.locator('#leave-why-list').getByRole('option').first().click(SLOW);
      },
      'shared': shared,
      'a broken link': async (page) => {
        await escape(page);
        await spoil('leave')(page);
      },
    },
  },
  Clear: {
    hash: clearItem({ game: 'group', balls: 2 }).hash,
    states: {
      'dealt': (page) => cue(page, 'clear'),
      'what now': async (page) => {
        await button(page, 'What now').click();
        await page.getByRole('listbox', { name: /^shots from here/i }).getByRole('option').first().waitFor(SLOW);
      },
      'a way taken over': async (page) => {
        await page.getByRole('listbox', { name: /^shots from here/i }).getByRole('option').first().click();
        await page.locator('#clear-now').waitFor({ state: 'hidden' });
      },
      'a shot played': async (page) => {
        await button(page, 'Play the exact stroke').click();
        await pressed(page, 'Play');
        await page.getByRole('listbox', { name: /the shots so far/i }).getByRole('option').first().waitFor(SLOW);
      },
      'the plan': async (page) => {
        await pressed(page, 'Plan');
        await page.getByRole('listbox', { name: /^the plan/i }).getByRole('option').first().waitFor(SLOW);
      },
      'shared': shared,
      'a broken link': async (page) => {
        await escape(page);
        await spoil('clear')(page);
      },
    },
  },
  Eye: {
    hash: '#eye',
    states: {
      'asked': (page) => page.locator('#eye-drawing .eye-handle[tabindex]').waitFor(SLOW),
      'answered': estimated,
      'summed up': async (page) => {
        for (let k = 2; k <= 20; k++) {
          await page.waitForTimeout(SECOND_PRESS);
          await button(page, 'Next').click();
          await estimated(page);
        }
        await page.waitForTimeout(SECOND_PRESS);
        await button(page, 'Next').click();
        await page.locator('#eye-lines .line').first().waitFor();
      },
    },
  },
  Bench: {
    hash: '#bench',
    states: {
      'set up': async (page) => {
        await page.getByRole('button', { name: /^(cue|\d+) ball, / }).nth(2).waitFor(SLOW);
        await page.locator('.margin').nth(3).waitFor(SLOW);
      },
      'a ball held': (page) => page.getByRole('button', { name: /^cue ball, / }).focus(),
      'the map': async (page) => {
        await page.locator('#bench-map').click();
        await page.locator('#bench-table .heat, .heat, canvas').first().waitFor(SLOW);
      },
      'the balls': async (page) => {
        await page.locator('#bench-balls').click();
        await page.getByRole('dialog').first().waitFor();
      },
      'what is asked': async (page) => {
        await escape(page);
        await page.locator('#bench-task').click();
        await page.getByRole('dialog').first().waitFor();
      },
      'shared': async (page) => {
        await escape(page);
        await shared(page);
      },
    },
  },
  Sets: {
    hash: setLink(SET, 70),
    states: {
      'opened by a link': async (page) => {
        await page.locator('#sets-name').filter({ hasText: 'Tuesday' }).waitFor(SLOW);
        await cue(page, 'sets');
      },
      'revealed': reveal,
      'a bad file': async (page) => {
        await button(page, 'File…').click();
        await page.getByLabel('The file of a set').setInputFiles(file('{"title":'));
        await page.getByRole('dialog').getByText('This is no set that can be read.').waitFor();
      },
      'its words': async (page) => {
        await page.getByLabel('The file of a set').setInputFiles(file(JSON.stringify(SET)));
        await button(page, 'Add the set').click();
        await button(page, 'Type title and note of the item').click();
        await page.getByRole('dialog').first().waitFor();
      },
      'its terms': async (page) => {
        await escape(page);
        await opened('The task: what is asked to pass, and the title of the set')(page);
      },
      'sent': async (page) => {
        await escape(page);
        await button(page, 'Share').click();
        await page.getByLabel('Link to this set').waitFor();
      },
      'before a class': async (page) => {
        await escape(page);
        await page.keyboard.press('f');
        const show = page.getByRole('dialog', { name: 'Tuesday' });
        await show.locator('.ball.cue').waitFor();
        await page.keyboard.press(' ');
        await show.locator('.real').waitFor();
      },
      'taken': async (page) => {
        await page.getByRole('dialog', { name: 'Tuesday' }).getByRole('button', { name: 'Leave' }).click();
        await button(page, 'Start').click();
        await page.locator('.strip-count').filter({ hasText: '1 of 2' }).waitFor();
      },
    },
  },
  Log: {
    hash: '#log',
    states: {
      'empty': (page) => page.locator('#log-hint').filter({ hasText: 'Every call that you make' }).waitFor(SLOW),
      'a file brought in': async (page) => {
        const lines = loggedLines(60);
        await page.setInputFiles('#log-file', { name: 'log.jsonl', mimeType: 'application/jsonl', buffer: Buffer.from([...lines, '{"half'].join('\n')) });
        await page.locator('#log-import-dialog').getByText('came in').waitFor(SLOW);
      },
      'skills and places': async (page) => {
        await page.locator('#log-import-dialog').getByRole('button', { name: 'Done' }).click();
        await page.locator('#log-view').selectOption('places');
      },
      'over time, with the numbers': async (page) => {
        await page.locator('#log-skills').getByRole('button', { name: /^Stop along the path/ }).click();
        await page.locator('#log-view').selectOption('time');
        await page.locator('#log-plot canvas').waitFor();
        await page.locator('#log-numbers summary').click();
      },
      'the list': (page) => page.locator('#log-view').selectOption('list'),
      'what next': opened('Other…'),
    },
  },
};

/** Days and nights in which a state breaks a rule, with the rule. */
async function broken(page) {
  const found = [];
  for (const { colorScheme, viewport } of LOOKS) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    await page.setViewportSize(viewport);
    // What depends on the size is drawn in the next frame.
    await page.waitForTimeout(60);
    found.push(...(await inaccessible(page)).map((fault) => `${colorScheme}, ${viewport.width} wide: ${fault}`));
  }
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
  await page.setViewportSize(DESKTOP);
  await page.waitForTimeout(60);
  return found;
}

for (const [part, { hash, states }] of Object.entries(PARTS)) {
  test(`every state breaks no rule: ${part}`, async () => {
    const { page, close } = await open({ hash, viewport: DESKTOP });
    for (const [name, reach] of Object.entries(states)) {
      await reach(page);
      assert.deepEqual(await broken(page), [], name);
    }
    await close();
  });
}

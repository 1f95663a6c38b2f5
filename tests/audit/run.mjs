// The page audit of the released page, mobile profile, from a host as most are, with HTTP/2 and compression:
// node tests/audit/run.mjs SITE [RUNS]      (scripts/audit calls it)
import { launch } from 'chrome-launcher';
import lighthouse from 'lighthouse';
import { TRUSTING, host } from './host.mjs';

const [site, runs = '3'] = process.argv.slice(2);
const KEYS = ['first-contentful-paint', 'largest-contentful-paint', 'speed-index', 'total-blocking-time', 'cumulative-layout-shift', 'interactive'];
const FLAGS = ['--headless', '--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking', ...TRUSTING];

/** @param {string} url @param {number} k */
async function audit(url, k) {
  const chrome = await launch({ chromePath: process.env.CHROMIUM, chromeFlags: FLAGS });
  try {
    const { lhr } = await lighthouse(url, { port: chrome.port, output: 'json', logLevel: 'error', onlyCategories: ['performance', 'accessibility', 'best-practices'] });
    const scores = Object.values(lhr.categories).map(({ title, score }) => `${title} ${Math.round(100 * (score ?? 0))}`);
    const figures = KEYS.map((key) => `${lhr.audits[key].title} ${lhr.audits[key].displayValue}`);
    console.log(`${k + 1}: ${scores.join(', ')}; ${figures.join(', ')}`);
    return lhr;
  } finally {
    chrome.kill();
  }
}

const { url } = await host(site);
const found = [];
for (let k = 0; k < Number(runs); k++) found.push(await audit(url, k));
const misses = Object.values(found.at(-1).audits).filter(({ score, scoreDisplayMode }) => score !== null && score < 0.9 && scoreDisplayMode !== 'informative');
for (const { id, title, displayValue = '' } of misses) console.log(`  ${id}: ${title} ${displayValue}`);
process.exit(0);

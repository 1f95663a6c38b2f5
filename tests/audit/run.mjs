// The page audit of the released page, mobile profile, from a host as most are, with HTTP/2 and compression:
// node tests/audit/run.mjs SITE [RUNS]      (scripts/audit calls it)
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createSecureServer } from 'node:http2';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { launch } from 'chrome-launcher';
import lighthouse from 'lighthouse';
import { answering } from '../../scripts/serve.mjs';

const [site, runs = '3'] = process.argv.slice(2);
const KEYS = ['first-contentful-paint', 'largest-contentful-paint', 'speed-index', 'total-blocking-time', 'cumulative-layout-shift', 'interactive'];
const FLAGS = ['--headless', '--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking', '--ignore-certificate-errors'];

/** A key and a certificate for this run alone. */
function certified() {
  const folder = mkdtempSync(join(tmpdir(), 'leaveline-audit-'));
  const [key, cert] = ['key', 'cert'].map((name) => join(folder, name));
  const wish = ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '1', '-subj', '/CN=localhost', '-keyout', key, '-out', cert];
  execFileSync('openssl', wish, { stdio: 'ignore' });
  const made = { key: readFileSync(key), cert: readFileSync(cert) };
  rmSync(folder, { recursive: true });
  return made;
}

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

const server = createSecureServer(certified(), answering(site, { compress: true }));
await new Promise((done) => server.listen(0, '127.0.0.1', done));
const found = [];
for (let k = 0; k < Number(runs); k++) found.push(await audit(`https://localhost:${server.address().port}/`, k));
const misses = Object.values(found.at(-1).audits).filter(({ score, scoreDisplayMode }) => score !== null && score < 0.9 && scoreDisplayMode !== 'informative');
for (const { id, title, displayValue = '' } of misses) console.log(`  ${id}: ${title} ${displayValue}`);
process.exit(0);

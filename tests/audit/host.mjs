// A host as most are, with HTTP/2 and compression, under a certificate that nobody has signed.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createSecureServer } from 'node:http2';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { answering } from '../../scripts/serve.mjs';

/** What a browser is told so that it takes the certificate. */
export const TRUSTING = ['--ignore-certificate-errors'];

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

/** Serves a folder until the process ends. @param {string} folder */
export async function host(folder) {
  const server = createSecureServer(certified(), answering(folder, { compress: true }));
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  return { url: `https://localhost:${server.address().port}/` };
}

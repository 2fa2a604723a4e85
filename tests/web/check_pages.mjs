// Makes papers as web pages with the program, and holds each against a validator of HTML and, in a browser, against an
// accessibility checker (WCAG 2.0 to 2.2, levels A and AA) and a few measures of its own.
//
// Usage: node check_pages.mjs PROGRAM SOURCE-TREE CHROMIUM
// Offline. One browser for all pages. Ends with 1 when anything is not as it should be.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';

import { failure, failures, say } from './findings.mjs';

const [program, tree, chromium] = process.argv.slice(2);
if (!chromium) {
  console.error('usage: node check_pages.mjs PROGRAM SOURCE-TREE CHROMIUM');
  process.exit(2);
}

let parts;
try {
  parts = await Promise.all(['./make_pages.mjs', './validity.mjs', './browser.mjs', './planted.mjs'].map((part) => import(part)));
} catch (missing) {
  console.error(`${missing.message}\nThe packages of the tests are not installed: npm ci --ignore-scripts --prefix ${join(tree, 'tests/web')}`);
  process.exit(1);
}
const [{ makePages }, { validate }, { Browser }, { checkPlanted }] = parts;

// One page of each kind of paper is looked at on a narrow screen as well.
const everyKind = /AMH-IP-012-.*-a4\.html$/;

const folder = mkdtempSync(join(tmpdir(), 'stepward-pages-'));
let browser;
try {
  const pages = makePages(program, tree, folder);
  say(`${pages.length} pages`);
  for (const page of pages) {
    for (const fault of await validate(page)) failure(basename(page), fault);
  }
  browser = await Browser.start(chromium, folder);
  say(`checked in ${browser.name()} by axe-core ${browser.checkerVersion()}`);
  for (const page of pages) {
    for (const fault of await browser.faultsOf(page, everyKind.test(page))) failure(basename(page), fault);
  }
  for (const fault of await browser.faultsOfPrints(pages)) failure('printed faces', fault);
  await checkPlanted(pages, folder, browser);
} catch (trouble) {
  failure('the checks themselves', trouble.stack);
} finally {
  if (browser) await browser.stop();
  rmSync(folder, { recursive: true, force: true });
}
say(`${failures()} not as expected`);
process.exit(failures() === 0 ? 0 : 1);

// What a browser makes of a page: axe-core's findings, words cut off or lying outside of the screen, requests, scripts,
// the same file read as XML, the square code read back, and what stands on each face that it prints.
import { execFileSync } from 'node:child_process';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

import axe from 'axe-core';
import jsQR from 'jsqr';
import { chromium } from 'playwright-core';
import { PNG } from 'pngjs';

const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];
const levels = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

// WCAG 1.4.10 asks that nothing has to be scrolled sideways at 320 CSS pixels.
const wide = { width: 1280, height: 900 };
const narrow = { width: 320, height: 640 };

// WCAG 1.4.12: a reader may set the text this far apart, and loses nothing.
const textSpacing = '* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }';

export class Browser {
  static async start(executablePath, folder) {
    const browser = new Browser();
    browser.folder = folder;
    browser.instance = await chromium.launch({ executablePath, args: flags, headless: true });
    browser.context = await browser.instance.newContext({ bypassCSP: true, viewport: wide });
    return browser;
  }

  async stop() {
    await this.instance.close();
  }

  name() {
    return `Chromium ${this.instance.version()}`;
  }

  checkerVersion() {
    return axe.version;
  }

  /// Everything that is wrong with a page, one sentence each. `onPhones`: the checker looks a second time, at a narrow screen.
  async faultsOf(path, onPhones = false) {
    const page = await this.context.newPage();
    const asked = [];
    page.on('request', (request) => asked.push(request.url()));
    try {
      await page.setViewportSize(wide);
      await page.goto(pathToFileURL(path).href);
      const faults = await accessibilityFaults(page);
      faults.push(...(await this.squareCodeFaults(page)));
      await page.setViewportSize(narrow);
      if (onPhones) faults.push(...(await accessibilityFaults(page)).map((fault) => `${fault} (at ${narrow.width} pixels)`));
      faults.push(...(await reflowFaults(page)));
      await page.addStyleTag({ content: textSpacing });
      faults.push(...(await reflowFaults(page)).map((fault) => `${fault} (with wider text)`));
      const others = asked.filter((url) => !url.startsWith('file:') || !url.endsWith('.html'));
      if (others.length > 0) faults.push(`asks for ${others.join(', ')}`);
      faults.push(...(await this.xmlFaults(page, path)));
      return faults;
    } finally {
      await page.close();
    }
  }

  /// The same bytes read by the parser for XML have the same words.
  async xmlFaults(page, path) {
    await page.goto(pathToFileURL(path).href);
    const words = () => page.evaluate(() => document.documentElement.textContent);
    const asHtml = await words();
    const copy = join(this.folder, 'as-xml.xhtml');
    copyFileSync(path, copy);
    await page.goto(pathToFileURL(copy).href);
    if (await page.evaluate(() => document.contentType !== 'application/xhtml+xml' || document.querySelector('parsererror') !== null)) return ['is not read as XML'];
    return asHtml.trim() === (await words()).trim() ? [] : ['has other words when it is read as XML'];
  }

  async squareCodeFaults(page) {
    const code = page.locator('footer svg');
    const text = await code.getAttribute('aria-label');
    const image = PNG.sync.read(await code.screenshot());
    const read = jsQR(Uint8ClampedArray.from(image.data), image.width, image.height);
    return read && read.data === text ? [] : [`the square code reads ${read ? read.data : 'nothing'} and not ${text}`];
  }

  /// The faces that a browser prints: their size, and what stands on each of them.
  async faultsOfPrints(pages) {
    const faults = [];
    for (const kind of ['card-a4', 'script-a5', 'breach-a4', 'kit-letter']) {
      const path = pages.find((each) => each.includes(kind));
      if (!path) {
        faults.push(`no page of ${kind} was made`);
        continue;
      }
      faults.push(...(await this.printFaults(path)).map((fault) => `${kind}: ${fault}`));
    }
    return faults;
  }

  async printFaults(path) {
    const page = await this.context.newPage();
    await page.goto(pathToFileURL(path).href);
    const checkWords = await page.locator('.check-words strong').textContent();
    const number = await page.locator('.filed .number').textContent();
    const draft = (await page.locator('.mark').count()) > 0;
    const pdf = join(this.folder, 'print.pdf');
    writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true, printBackground: false }));
    await page.close();
    const size = /Page size: +([\d.]+) x ([\d.]+)/.exec(execFileSync('pdfinfo', [pdf], { encoding: 'utf8' }));
    const faults = [];
    const wanted = path.includes('-a5') ? [595.3, 419.5] : path.includes('-letter') ? [612, 792] : [595.3, 841.9];
    if (Math.abs(size[1] - wanted[0]) > 1 || Math.abs(size[2] - wanted[1]) > 1) faults.push(`prints on ${size[1]} x ${size[2]} points`);
    const faces = execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' }).split('\f').slice(0, -1);
    faces.forEach((words, i) => {
      const face = squeezed(words);
      for (const part of [checkWords, number, `${i + 1} / ${faces.length}`, ...(draft ? ['DRAFT'] : [])]) {
        if (!face.includes(squeezed(part))) faults.push(`"${part}" is not on face ${i + 1}`);
      }
    });
    if (faces.length < 1) faults.push('prints nothing');
    return faults;
  }
}

/// Blanks are where the layout wants them.
function squeezed(words) {
  return words.replaceAll(/\s+/g, '');
}

async function accessibilityFaults(page) {
  await page.evaluate(axe.source);
  const report = await page.evaluate((tags) => globalThis.axe.run(document, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] }), levels);
  return report.violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((node) => node.html.slice(0, 120)).join(' … ')} (${v.nodes.length} times)`);
}

/// Words beyond the edge of the screen, or of the element that holds them.
async function reflowFaults(page) {
  return page.evaluate(() => {
    const faults = [];
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > width) faults.push(`reflow: the page is ${document.documentElement.scrollWidth} pixels wide on a screen of ${width}`);
    for (const element of document.querySelectorAll('body *')) {
      if (element.closest('[aria-hidden], svg')) continue;
      const box = element.getBoundingClientRect();
      if (box.right > width + 1 || box.left < -1) {
        faults.push(`reflow: ${element.outerHTML.slice(0, 100)} reaches from ${Math.round(box.left)} to ${Math.round(box.right)}`);
        break;
      }
    }
    return faults;
  });
}

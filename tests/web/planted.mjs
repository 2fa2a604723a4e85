// Pages with a mistake that was put in on purpose: each must be found, or the checks prove nothing.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { failure, say } from './findings.mjs';
import { validate } from './validity.mjs';

const plants = [
  { name: 'pale words', found: 'color-contrast', from: '</style>', to: '.act { color: #999 }</style>' },
  { name: 'no language', found: 'html-has-lang', from: / lang="en"/, to: '' },
  { name: 'a square code without words', found: 'svg-img-alt', from: / aria-label="[^"]*"(?=>)/, to: '' },
  { name: 'a control without a label', found: 'label', from: '<span class="tick"></span>', to: '<input type="checkbox"/>' },
  { name: 'a heading of the wrong level', found: 'heading-order', from: /<h2([^>]*)>(.*?)<\/h2>/, to: '<h4$1>$2</h4>' },
  { name: 'words outside of landmarks', found: 'region', from: '</body>', to: '<p>words</p></body>' },
  { name: 'no title', found: 'document-title', from: /<title>.*?<\/title>/, to: '<title></title>' },
  { name: 'something too wide', found: 'reflow', from: '</style>', to: '.act { min-width: 40rem }</style>' },
  { name: 'a picture from elsewhere', found: 'asks for', from: '</main>', to: '<img src="file:///nowhere.png" alt="nothing"/></main>' },
  { name: 'an open element', found: 'is not read as XML', from: '</ul>', to: '' },
  { name: 'another square code', found: 'the square code reads', from: /aria-label="[^"]*"(?=>)/, to: 'aria-label="other"' },
  { name: 'the same id twice', found: 'no-dup-id', by: validate, from: /id="at-2"/, to: 'id="at-1"' },
  { name: 'an element that is not closed', found: 'close-order', by: validate, from: '</ul>', to: '' },
  { name: 'an element where it may not stand', found: 'element-permitted-content', by: validate, from: '<ul class="trunk">', to: '<ul class="trunk"><p>words</p>' },
  { name: 'a head of nothing', on: 'kit', found: 'attribute-allowed-values', by: validate, from: 'scope="col"', to: 'scope="colum"' },
];

/// The shortest English page of a kind.
function shortest(pages, kind) {
  const texts = pages.filter((page) => page.includes(`-${kind}-`)).map((page) => readFileSync(page, 'utf8')).filter((text) => text.includes(' lang="en"'));
  return texts.sort((a, b) => a.length - b.length)[0];
}

export async function checkPlanted(pages, folder, browser) {
  // No paper has both steps and a table.
  const card = shortest(pages, 'card');
  const kit = shortest(pages, 'kit');
  for (const plant of plants) {
    const good = plant.on === 'kit' ? kit : card;
    const bad = good.replace(plant.from, plant.to);
    const file = join(folder, `planted-${plants.indexOf(plant)}.html`);
    writeFileSync(file, bad);
    if (bad === good) failure(plant.name, 'could not be planted');
    const faults = await (plant.by ? plant.by(file) : browser.faultsOf(file));
    if (!faults.some((fault) => fault.startsWith(plant.found))) failure(plant.name, `was not found; found were: ${faults.join(' | ') || 'nothing'}`);
  }
  say(`${plants.length} planted mistakes were looked for`);
}

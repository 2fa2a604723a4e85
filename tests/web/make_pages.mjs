// The pages that are looked at: every kind of paper, two languages, a draft, and a sheet that runs from right to left.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const day = ['--today', '2030-11-01'];

function print(program, file, to, ...more) {
  execFileSync(program, ['print', file, '--as', 'xhtml', '--to', to, ...day, ...more], { stdio: ['ignore', 'ignore', 'inherit'] });
}

/// The protocol of hand rub as if it were written in Arabic: its words are English, its page is set from the right.
function fromTheRight(tree, folder) {
  const text = readFileSync(join(tree, 'stdlib-procedures/protocols/hand-rub.ward'), 'utf8');
  const changed = text.replace(/languages +English/, 'languages Arabic');
  if (changed === text) throw new Error('hand-rub.ward names no language any more');
  const file = join(folder, 'from-the-right.ward');
  writeFileSync(file, changed);
  return file;
}

export function makePages(program, tree, folder) {
  const to = join(folder, 'pages');
  const examples = join(folder, 'examples');
  cpSync(join(tree, 'examples'), examples, { recursive: true, filter: (path) => !path.includes('/out') });
  mkdirSync(to);
  const exit = join(examples, 'aldermoss-exit.ward');
  print(program, exit, to, '--only', 'gown, boot covers');
  print(program, exit, to, '--what', 'dossier');
  print(program, exit, to, '--only', 'coverall, goggles, rubber boots', '--what', 'card,script,sign-off', '--language', 'Spanish', '--paper', 'A5');
  print(program, join(examples, 'aldermoss-entry.ward'), to, '--only', 'gown, boot covers', '--what', 'kit,competency,breach', '--draft', '--paper', 'letter');
  const library = (name) => join(tree, 'stdlib-procedures/protocols', `${name}.ward`);
  print(program, library('central-line-insertion'), to, '--what', 'card', '--draft');
  print(program, library('body-fluid-spill-cloth-first'), to, '--what', 'script,kit', '--draft');
  print(program, library('chlorine-making-up'), to, '--what', 'card,dilution', '--draft');
  print(program, library('sharps-first-aid'), to, '--what', 'card,script', '--draft');
  print(program, fromTheRight(tree, folder), to, '--draft');
  return readdirSync(to).filter((name) => name.endsWith('.html')).sort().map((name) => join(to, name));
}

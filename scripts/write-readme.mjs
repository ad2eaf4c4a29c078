// Runs the commands that README.md shows, in their order and in a folder of their own, and writes down what they print.
// '[…]' at the end of an output stays: as many lines as stand before it are kept.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const readme = new URL('../README.md', import.meta.url);
const program = fileURLToPath(new URL('../dist/cli.mjs', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'benchwright-readme-'));
const text = readFileSync(readme, 'utf8');
const [, was = '', is = ''] = /```diff\n-(.*)\n\+(.*)\n```/.exec(text) ?? [];
let checks = 0;

const written = text.replace(/```console\n\$ benchwright (.*)\n([^`]*)```/g, (_, command, before) => {
  const args = command.match(/"[^"]*"|\S+/g).map((word) => word.replace(/^"|"$/g, ''));
  if (args[0] === 'check') edit(++checks);
  const { stdout, stderr } = spawnSync(process.execPath, [program, ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
  const lines = `${stdout}${stderr}`
    .trimEnd()
    .split('\n')
    .map((line) => line.trimEnd());
  const shown = before.trimEnd().split('\n');
  const kept = shown.at(-1) === '[…]' ? [...lines.slice(0, shown.length - 1), '[…]'] : lines;
  return `\`\`\`console\n$ benchwright ${command}\n${kept.join('\n')}\n\`\`\``;
});
rmSync(folder, { recursive: true });
writeFileSync(readme, written);

/** The edit that the README tells to make, with its slip before the first check, without it before the second. */
function edit(check) {
  const file = join(folder, 'my-chain', 'lab.yaml');
  const lab = readFileSync(file, 'utf8');
  writeFileSync(file, check === 1 ? lab.replace(was, is) : lab.replace('498.0 m', '498.0 g'));
}

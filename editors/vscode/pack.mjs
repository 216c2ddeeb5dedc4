// Packs the extension once for each kind of machine, with the program for it:  node pack.mjs FOLDER
//
// FOLDER holds the programs as dwell-linux-x64, dwell-linux-arm64, dwell-darwin-x64, dwell-darwin-arm64, dwell-win32-x64.exe;
// those that are there are packed, into FOLDER. An extension is given to the machines that it is packed for, so none starts
// a program that cannot run there.
import { spawnSync } from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';

const machines = ['linux-x64', 'linux-arm64', 'darwin-x64', 'darwin-arm64', 'win32-x64', 'win32-arm64'];
const here = import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname);
const stop = words => { console.error(words); process.exit(2); };
if (!process.argv[2]) stop('name the folder with the programs: node pack.mjs FOLDER');
const folder = path.resolve(process.argv[2]);
const programOf = machine => path.join(folder, machine.startsWith('win32') ? `dwell-${machine}.exe` : `dwell-${machine}`);
const found = machines.filter(machine => fs.existsSync(programOf(machine)));
if (found.length === 0) stop(`no program in ${folder}: it is to be called dwell-MACHINE, with one of ${machines.join(', ')}`);
const bin = path.join(here, 'bin');
for (const machine of found) {
  fs.rmSync(bin, { recursive: true, force: true });
  fs.mkdirSync(bin);
  const bundled = path.join(bin, machine.startsWith('win32') ? 'dwell.exe' : 'dwell');
  fs.copyFileSync(programOf(machine), bundled);
  fs.chmodSync(bundled, 0o755);
  const packed = path.join(folder, `dwell-${machine}.vsix`);
  const vsce = path.join(here, 'node_modules', '@vscode', 'vsce', 'vsce');
  const said = spawnSync(process.execPath, [vsce, 'package', '--target', machine, '--no-dependencies', '--allow-missing-repository', '--out', packed], { cwd: here, encoding: 'utf8' });
  fs.rmSync(bin, { recursive: true, force: true });
  if (said.status !== 0) stop(`${machine}: ${said.stdout}${said.stderr}`);
  console.log(packed);
}

// What the settings of an editor do with texts: how deep each line is set in, and which words a line has.
//
//   node typing.mjs language-configuration.json < [text, …]
//
// Writes for each text {"depths": […], "words": [[line from 0, start, end], …]}, columns in units of UTF-16.
import { readFileSync } from 'node:fs';

const settings = JSON.parse(readFileSync(process.argv[2], 'utf8'));
const more = new RegExp(settings.indentationRules.increaseIndentPattern);
const less = new RegExp(settings.indentationRules.decreaseIndentPattern);
const word = new RegExp(settings.wordPattern.pattern, `g${settings.wordPattern.flags}`);
for (const rule of settings.onEnterRules) [rule.beforeText, rule.afterText].forEach(text => new RegExp(text));
for (const text of Object.values(settings.folding.markers)) new RegExp(text);

const answers = JSON.parse(readFileSync(0, 'utf8')).map(text => {
  let depth = 0;
  const depths = [];
  const words = [];
  text.split('\n').forEach((line, number) => {
    if (less.test(line)) depth--;
    depths.push(depth);
    if (more.test(line)) depth++;
    for (const found of line.matchAll(word)) words.push([number, found.index, found.index + found[0].length]);
  });
  return { depths, words };
});
process.stdout.write(JSON.stringify(answers));

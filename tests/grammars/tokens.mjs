// Cuts texts into tokens with a TextMate grammar, as Visual Studio Code and others do.
//
//   node tokens.mjs FOLDER-OF-MODULES GRAMMAR.json < [text, …]
//
// Writes a list for each text: [line from 0, start, end, scopes], columns in units of UTF-16.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const [modules, path] = process.argv.slice(2);
const require = createRequire(join(modules, 'here.js'));
const { Registry, INITIAL, parseRawGrammar } = require('vscode-textmate');
const { loadWASM, OnigScanner, OnigString } = require('vscode-oniguruma');

await loadWASM(readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm')).buffer);
const registry = new Registry({
  onigLib: Promise.resolve({ createOnigScanner: patterns => new OnigScanner(patterns), createOnigString: text => new OnigString(text) }),
  loadGrammar: async () => parseRawGrammar(readFileSync(path, 'utf8'), path),
});
const grammar = await registry.loadGrammar('source.dwell');
const texts = JSON.parse(readFileSync(0, 'utf8'));
const answers = texts.map(text => {
  let state = INITIAL;
  const found = [];
  text.split(/\r\n|\r|\n/).forEach((line, number) => {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, state);
    state = ruleStack;
    for (const token of tokens) found.push([number, token.startIndex, token.endIndex, token.scopes]);
  });
  return found;
});
process.stdout.write(JSON.stringify(answers));

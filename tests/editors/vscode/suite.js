// Runs inside the real extension host of VS Code: what a writer sees. Exports run(); a throw is a failure.
const vscode = require('vscode'), assert = require('assert'), path = require('path');
const sleep = ms => new Promise(done => setTimeout(done, ms));
const until = async (what, got) => {
  for (let i = 0; i < 300; i++) { const value = await got(); if (value) return value; await sleep(100); }
  throw Error('never: ' + what);
};
const command = (name, ...all) => vscode.commands.executeCommand(name, ...all);
const found = document => vscode.languages.getDiagnostics(document.uri);
const at = (document, words, further = 0) => document.positionAt(document.getText().indexOf(words) + further);
const tests = {
  async 'findings arrive, with the page of their rule and the other place'(document) {
    const all = await until('findings', () => found(document).length && found(document));
    assert.deepEqual(all.map(one => one.code.value), ['not-restored']);
    assert.match(all[0].code.target.path, /not-restored\.md$/);
    assert.equal(document.getText(all[0].range), 'remove belt-guard');
  },
  async 'hover shows the state of the vehicle'(document) {
    const [hover] = await command('vscode.executeHoverProvider', document.uri, at(document, 'do "Look', 1));
    assert.match(hover.contents.map(one => one.value).join(''), /belt guard ° +out +owed, restore does not put it back/);
  },
  async 'suggestions begin with what can be done'(document) {
    const list = await command('vscode.executeCompletionItemProvider', document.uri, at(document, 'do "Look'));
    const first = list.items.filter(one => one.sortText).sort((a, b) => (a.sortText < b.sortText ? -1 : 1))[0];
    assert.match(first.label.label ?? first.label, /^refit/, JSON.stringify(list.items.slice(0, 3)));
  },
  async 'a name leads to its declaration, to its uses, and is renamed'(document) {
    const place = at(document, 'remove belt-guard', 9);
    const [link] = await command('vscode.executeDefinitionProvider', document.uri, place);
    assert.equal((link.targetRange ?? link.range).start.line, 1);
    assert.equal((await command('vscode.executeReferenceProvider', document.uri, place)).length, 2);
    assert(await vscode.workspace.applyEdit(await command('vscode.executeDocumentRenameProvider', document.uri, place, 'belt-cover')));
    assert.match(document.getText(), /item belt-cover: removable "belt guard °"/);
  },
  async 'outline, folds, links above cases, hints and colours'(document) {
    const symbols = await command('vscode.executeDocumentSymbolProvider', document.uri);
    assert.deepEqual(symbols.map(one => one.name), ['belt-cover', 'look']);
    const lenses = await command('vscode.executeCodeLensProvider', document.uri);
    assert(lenses.some(one => one.command.title === 'run this case'));
    assert((await command('vscode.executeFoldingRangeProvider', document.uri)).length > 1);
    assert((await command('vscode.provideDocumentSemanticTokens', document.uri)).data.length > 20);
    const whole = new vscode.Range(0, 0, document.lineCount, 0);
    const hints = await command('vscode.executeInlayHintProvider', document.uri, whole);
    assert(hints.some(one => /owed: belt guard/.test(one.label)), JSON.stringify(hints));
  },
  async 'the repair puts it into restore, and the finding goes'(document) {
    const [one] = found(document);
    const actions = await command('vscode.executeCodeActionProvider', document.uri, one.range, 'quickfix');
    assert(await vscode.workspace.applyEdit(actions[0].edit), actions[0].title);
    await until('no finding', () => found(document).length === 0);
    assert.match(document.getText(), /restore \{[^}]*refit belt-cover/);
  },
  async 'a text is set'(document) {
    const edits = await command('vscode.executeFormatDocumentProvider', document.uri, { tabSize: 4, insertSpaces: true });
    const all = new vscode.WorkspaceEdit(); all.set(document.uri, edits); await vscode.workspace.applyEdit(all);
    assert.match(document.getText(), /\n    case "whole" \{ ends passed \}\n/);
  },
  async 'a lens carries out its case'(document) {
    const lenses = await command('vscode.executeCodeLensProvider', document.uri);
    const lens = lenses.find(one => one.command.title === 'run this case');
    const done = await command(lens.command.command, { ...lens.command.arguments[0], quiet: true });
    assert.deepEqual(done, { well: true, words: 'whole: ends passed, as it says' });
  },
  async 'the card stands beside the source, follows the cursor, and stays while a line is not finished'(document) {
    const editor = await vscode.window.showTextDocument(document, vscode.ViewColumn.One);
    const to = words => { editor.selection = new vscode.Selection(at(document, words, 1), at(document, words, 1)); };
    const shown = (what, is) => until(what, async () => { const page = await command('dwell.cardBeside.shown'); return page && is(page) && page; });
    to('do "Look');
    await command('dwell.cardBeside');
    const first = await shown('a card', page => page.card && page.here !== null);
    assert.equal(first.state, 'whole');
    assert.match(first.card, /Look for oil\./);
    assert.match(first.ways, /<svg class="chart"/);
    assert.equal(first.places.find(one => one.node === first.here).range[0], at(document, 'do "Look').line);
    const panel = await until('a panel', () => vscode.window.tabGroups.all.flatMap(group => group.tabs).find(tab => tab.label === 'Card: look'));
    assert.match(panel.input.viewType, /dwell\.beside$/);
    to('remove belt-cover');
    await shown('the other line', page => page.here !== first.here);
    const line = at(document, 'do "Look').line;
    await editor.edit(edit => edit.insert(new vscode.Position(line, 0), '        measure \n'));
    const torn = await shown('what is wrong', page => page.state !== 'whole');
    assert(torn.troubles.some(one => one.line === line), JSON.stringify(torn.troubles));
    assert.match(torn.card, /Look for oil\./);
    await editor.edit(edit => edit.delete(new vscode.Range(line, 0, line + 1, 0)));
    await shown('a whole card again', page => page.state === 'whole');
    await vscode.window.tabGroups.close(panel);
    assert.equal(await command('dwell.cardBeside.shown'), undefined);
    await vscode.window.showTextDocument(document);
  },
  async 'the program can be started anew'(document) {
    await command('dwell.restart');
    await vscode.workspace.applyEdit((() => { const edit = new vscode.WorkspaceEdit(); edit.insert(document.uri, new vscode.Position(0, 0), 'item pipe: hos\n'); return edit; })());
    await until('findings of the new one', () => found(document).some(one => one.code?.value === 'not-found'));
  },
};
exports.run = async () => {
  const folder = vscode.workspace.workspaceFolders[0].uri.fsPath;
  const document = await vscode.workspace.openTextDocument(path.join(folder, 'look.dwell'));
  await vscode.window.showTextDocument(document);
  let bad = 0;
  for (const [name, test] of Object.entries(tests)) {
    try { await test(document); console.log('  ok  ' + name); } catch (error) { bad++; console.log('  FAIL ' + name + ': ' + error.message); }
  }
  console.log(`${Object.keys(tests).length - bad} passed, ${bad} failed`);
  await document.save();
  if (bad) throw Error(bad + ' failed');
};

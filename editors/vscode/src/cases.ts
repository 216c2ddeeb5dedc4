// The cases of open procedures in the list of tests; the program carries them out.
import * as vscode from 'vscode';
import { Server } from './server';

/// What a lens over a case sends to the program.
interface Sent { uri: string; of: string }

export class Cases implements vscode.Disposable {
  private readonly tests = vscode.tests.createTestController('dwell', 'Dwell cases');
  private readonly sent = new WeakMap<vscode.TestItem, Sent>();
  private readonly parts: vscode.Disposable[];
  private waiting: NodeJS.Timeout | undefined;

  constructor(private readonly server: Server) {
    this.tests.createRunProfile('Run', vscode.TestRunProfileKind.Run, (request, cancel) => this.run(request, cancel), true);
    this.tests.refreshHandler = () => Promise.all(vscode.workspace.textDocuments.map(document => this.find(document))).then(() => undefined);
    this.parts = [
      this.tests,
      vscode.workspace.onDidOpenTextDocument(document => this.soon(document)),
      vscode.workspace.onDidChangeTextDocument(change => this.soon(change.document)),
      vscode.workspace.onDidCloseTextDocument(document => this.tests.items.delete(document.uri.toString())),
    ];
    vscode.workspace.textDocuments.forEach(document => this.soon(document));
  }

  dispose(): void {
    clearTimeout(this.waiting);
    this.parts.forEach(part => part.dispose());
  }

  private soon(document: vscode.TextDocument): void {
    if (document.languageId !== 'dwell') return;
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => void this.find(document), 400);
  }

  /// Lists the cases of a document, by the lenses that the program puts above them.
  private async find(document: vscode.TextDocument): Promise<void> {
    if (document.languageId !== 'dwell' || document.isClosed) return;
    const lenses = await vscode.commands.executeCommand<vscode.CodeLens[]>('vscode.executeCodeLensProvider', document.uri);
    const file = this.tests.createTestItem(document.uri.toString(), vscode.workspace.asRelativePath(document.uri), document.uri);
    for (const lens of lenses ?? []) {
      const sent = lens.command?.arguments?.[0] as Sent | undefined;
      if (lens.command?.command !== 'dwell.runCase' || sent === undefined) continue;
      const item = this.tests.createTestItem(`${file.id}#${sent.of}`, sent.of, document.uri);
      item.range = lens.range;
      this.sent.set(item, sent);
      file.children.add(item);
    }
    if (file.children.size > 0) this.tests.items.add(file);
    else this.tests.items.delete(file.id);
  }

  private async run(request: vscode.TestRunRequest, cancel: vscode.CancellationToken): Promise<void> {
    const run = this.tests.createTestRun(request);
    const waiting: vscode.TestItem[] = [];
    const add = (item: vscode.TestItem): void => {
      if (request.exclude?.includes(item)) return;
      if (item.children.size > 0) item.children.forEach(add);
      else waiting.push(item);
    };
    if (request.include) request.include.forEach(add);
    else this.tests.items.forEach(add);
    waiting.forEach(item => run.enqueued(item));
    for (const item of waiting) {
      if (cancel.isCancellationRequested) {
        run.skipped(item);
        continue;
      }
      run.started(item);
      await this.one(run, item);
    }
    run.end();
  }

  private async one(run: vscode.TestRun, item: vscode.TestItem): Promise<void> {
    const sent = this.sent.get(item);
    const client = this.server.running;
    if (sent === undefined || client === undefined) {
      run.errored(item, new vscode.TestMessage('The program does not run: see its log.'));
      return;
    }
    try {
      const params = { command: 'dwell.runCase', arguments: [{ ...sent, quiet: true }] };
      const done = await client.sendRequest<{ well: boolean; words: string }>('workspace/executeCommand', params);
      run.appendOutput(`${done.words.replace(/\n/g, '\r\n')}\r\n`, undefined, item);
      if (done.well) run.passed(item);
      else run.failed(item, new vscode.TestMessage(done.words));
    } catch (error) {
      run.errored(item, new vscode.TestMessage(String(error)));
    }
  }
}

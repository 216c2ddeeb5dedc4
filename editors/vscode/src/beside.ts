// The card beside its source: asked of the program, shown in a panel, led by the cursor.
import * as vscode from 'vscode';
import { Server } from './server';

/// The range of a text, as the program sends it: line and character of both ends.
type Sent = [number, number, number, number];

/// The answer of the program.
interface Page {
  version: number;
  procedure: string;
  procedures: { name: string; range: Sent }[];
  state: 'whole' | 'errors' | 'partly' | 'unreadable';
  troubles: { line: number | null; words: string }[];
  variants: { name: string; values: string[]; chosen: string | null }[];
  card: string | null;
  ways: string | null;
  style: string | null;
  places: { node: number; range: Sent }[];
  here: number | null;
  hereInWays: number | null;
}

/// What is shown; kept by the panel, so that it comes back with the window.
interface Shown { uri: string; procedure: string | undefined; variants: Record<string, string>; tab: 'card' | 'ways' }

/// What the panel says.
type Said =
  | { kind: 'ready' }
  | { kind: 'go'; node: number }
  | { kind: 'line'; line: number }
  | { kind: 'procedure'; name: string }
  | { kind: 'variant'; name: string; value: string }
  | { kind: 'tab'; tab: 'card' | 'ways' };

const KIND = 'dwell.beside';
/// How long a change of the text and a move of the cursor wait for the next one, in milliseconds.
const TYPING = 150, MOVING = 60;

export class Beside implements vscode.Disposable, vscode.WebviewPanelSerializer<Shown> {
  private panel: vscode.WebviewPanel | undefined;
  private shown: Shown = { uri: '', procedure: undefined, variants: {}, tab: 'card' };
  private page: Page | undefined;
  private style: string | undefined;
  private ready = false;
  private asking = false;
  private again = false;
  private waiting: NodeJS.Timeout | undefined;
  private readonly parts: vscode.Disposable[];

  constructor(private readonly media: vscode.Uri, private readonly server: Server) {
    this.parts = [
      vscode.window.registerWebviewPanelSerializer(KIND, this),
      vscode.commands.registerCommand('dwell.cardBeside', () => this.open()),
      vscode.commands.registerCommand('dwell.cardBeside.shown', () => this.page && { ...this.page, tab: this.shown.tab }),
      vscode.workspace.onDidChangeTextDocument(change => {
        if (change.document.uri.toString() === this.shown.uri) this.soon(TYPING);
      }),
      vscode.window.onDidChangeTextEditorSelection(change => this.follow(change.textEditor)),
      vscode.window.onDidChangeActiveTextEditor(editor => { if (editor) this.follow(editor); }),
      server.onRunning(() => this.soon(0)),
    ];
  }

  dispose(): void {
    clearTimeout(this.waiting);
    this.panel?.dispose();
    this.parts.forEach(part => part.dispose());
  }

  /// Opens the panel beside the editor, or brings it to the front.
  private async open(): Promise<void> {
    const editor = vscode.window.activeTextEditor;
    if (editor?.document.languageId === 'dwell') this.shown.uri = editor.document.uri.toString();
    if (this.panel) {
      this.panel.reveal(undefined, true);
    } else {
      const where = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
      this.take(vscode.window.createWebviewPanel(KIND, 'Card', where, this.options()));
    }
    await this.ask();
  }

  /// The panel of an earlier window, with what it showed.
  async deserializeWebviewPanel(panel: vscode.WebviewPanel, kept: Shown | undefined): Promise<void> {
    if (kept?.uri) this.shown = { ...this.shown, ...kept };
    panel.webview.options = this.options();
    this.take(panel);
    await this.ask();
  }

  private options(): vscode.WebviewOptions {
    return { enableScripts: true, localResourceRoots: [this.media] };
  }

  private take(panel: vscode.WebviewPanel): void {
    this.panel = panel;
    this.ready = false;
    panel.iconPath = vscode.Uri.joinPath(this.media, 'card.svg');
    panel.webview.onDidReceiveMessage((said: Said) => void this.heard(said));
    panel.onDidDispose(() => {
      if (this.panel !== panel) return;
      this.panel = undefined;
      this.page = undefined;
    });
  }

  private follow(editor: vscode.TextEditor): void {
    if (!this.panel || editor.document.languageId !== 'dwell') return;
    const uri = editor.document.uri.toString();
    if (uri !== this.shown.uri) {
      this.shown = { ...this.shown, uri, procedure: undefined };
      this.page = undefined;
    }
    this.soon(MOVING);
  }

  private soon(after: number): void {
    if (!this.panel) return;
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => void this.ask(), after);
  }

  /// Asks for the page. While one is asked for, the next one waits; of several that wait one is enough.
  private async ask(): Promise<void> {
    if (this.asking) {
      this.again = true;
      return;
    }
    this.asking = true;
    try {
      do {
        this.again = false;
        await this.once();
      } while (this.again && this.panel);
    } finally {
      this.asking = false;
    }
  }

  private async once(): Promise<void> {
    const panel = this.panel, client = this.server.running, uri = this.shown.uri;
    if (!panel || uri === '') return;
    if (!client) return this.say('The program does not run: see its log.');
    try {
      // What is not open in the editor is opened without being shown, so that the program knows it.
      const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
      const editor = vscode.window.visibleTextEditors.find(one => one.document === document);
      const answer = await client.sendRequest<Page | null>('dwell/page', {
        textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) },
        position: editor ? client.code2ProtocolConverter.asPosition(editor.selection.active) : undefined,
        procedure: this.shown.procedure,
        variants: this.shown.variants,
        style: this.style === undefined,
      });
      if (this.panel !== panel || this.shown.uri !== uri) return;
      if (!answer) return this.say('This file declares no procedure.');
      this.style ??= answer.style ?? undefined;
      // Where nothing can be read the card that was there stays.
      const kept = answer.card === null && this.page?.procedure === answer.procedure ? this.page : undefined;
      this.page = { ...answer, card: answer.card ?? kept?.card ?? null, ways: answer.ways ?? kept?.ways ?? null };
      this.shown.procedure = answer.procedure;
      panel.title = `Card: ${answer.procedure}`;
      this.show(answer.card === null && kept !== undefined);
    } catch (error) {
      // A text that changed while it was asked about is asked about again.
      if (this.panel === panel) this.say(`The card cannot be shown: ${String(error)}`);
    }
  }

  private show(earlier: boolean): void {
    const webview = this.panel?.webview;
    if (!webview || !this.page || this.style === undefined) return;
    if (!this.ready && !webview.html.includes('id="card"')) {
      webview.html = this.frame(webview, this.style);
      return;
    }
    const { places: _, style: __, ...page } = this.page;
    void webview.postMessage({ kind: 'page', page, shown: this.shown, earlier });
  }

  private say(words: string): void {
    const webview = this.panel?.webview;
    if (!webview) return;
    if (this.ready) void webview.postMessage({ kind: 'words', words });
    else webview.html = `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="default-src 'none'"><body>${words.replace(/[&<>]/g, one => `&#${one.charCodeAt(0)};`)}</body></html>`;
  }

  private async heard(said: Said): Promise<void> {
    switch (said.kind) {
      case 'ready':
        this.ready = true;
        return this.show(false);
      case 'tab':
        this.shown.tab = said.tab;
        return;
      case 'procedure': {
        this.shown.procedure = said.name;
        const range = this.page?.procedures.find(one => one.name === said.name)?.range;
        return range && this.go(range, true);
      }
      case 'variant':
        if (said.value === '') delete this.shown.variants[said.name];
        else this.shown.variants[said.name] = said.value;
        return this.ask();
      case 'line':
        return this.go([said.line, 0, said.line, 0], false);
      case 'go': {
        const range = this.page?.places.find(one => one.node === said.node)?.range;
        return range && this.go([range[0], range[1], range[0], range[1]], false);
      }
    }
  }

  /// Puts the cursor to a place of the source.
  private async go(range: Sent, preserveFocus: boolean): Promise<void> {
    const uri = vscode.Uri.parse(this.shown.uri);
    const editor = vscode.window.visibleTextEditors.find(one => one.document.uri.toString() === this.shown.uri);
    const viewColumn = editor?.viewColumn ?? vscode.ViewColumn.One;
    const selection = new vscode.Range(range[0], range[1], range[0], range[1]);
    await vscode.window.showTextDocument(uri, { viewColumn, selection, preserveFocus });
  }

  /// The frame of the panel: nothing is loaded but our own script, and nothing else runs.
  private frame(webview: vscode.Webview, style: string): string {
    const nonce = Array.from({ length: 4 }, () => Math.random().toString(36).slice(2)).join('');
    const file = (name: string): vscode.Uri => webview.asWebviewUri(vscode.Uri.joinPath(this.media, name));
    return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ${webview.cspSource} 'nonce-${nonce}'; script-src 'nonce-${nonce}'">
<style nonce="${nonce}">${style}</style>
<link rel="stylesheet" href="${file('beside.css')}">
</head>
<body class="dwell-page">
<header class="bar" id="bar" hidden>
<div role="tablist" aria-label="What is shown">
<button role="tab" id="tab-card" aria-controls="card">Card</button><button role="tab" id="tab-ways" aria-controls="ways">Ways</button>
</div>
<span id="choices"></span>
<div id="banner" role="status" hidden></div>
</header>
<main id="card" role="tabpanel" aria-labelledby="tab-card"></main>
<main id="ways" role="tabpanel" aria-labelledby="tab-ways" hidden></main>
<script nonce="${nonce}" src="${file('beside.js')}"></script>
</body>
</html>`;
  }
}

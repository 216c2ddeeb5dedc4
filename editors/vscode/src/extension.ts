// The extension: it starts the program, says how that goes, shows the card beside its source, and offers cases as tests.
import * as vscode from 'vscode';
import { Beside } from './beside';
import { Cases } from './cases';
import { program } from './program';
import { Server } from './server';

let server: Server | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const log = vscode.window.createOutputChannel('Dwell', { log: true });
  const started = new Server(log, () => program(context, log));
  server = started;
  context.subscriptions.push(
    log,
    started,
    new Cases(started),
    new Beside(vscode.Uri.joinPath(context.extensionUri, 'media'), started),
    vscode.commands.registerCommand('dwell.restart', () => started.restart()),
    vscode.commands.registerCommand('dwell.showLog', () => log.show()),
    vscode.workspace.onDidChangeConfiguration(change => {
      if (change.affectsConfiguration('dwell.program')) void started.restart();
    }),
    vscode.workspace.onDidGrantWorkspaceTrust(() => started.restart()),
  );
  await started.start();
}

export function deactivate(): Promise<void> | undefined {
  return server?.stop();
}

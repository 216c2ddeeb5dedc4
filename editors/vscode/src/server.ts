// The program while it runs: started, watched, started anew; and the item that says how it is.
import * as vscode from 'vscode';
import { LanguageClient, State } from 'vscode-languageclient/node';

export class Server implements vscode.Disposable {
  private client: LanguageClient | undefined;
  private readonly item: vscode.LanguageStatusItem;
  private readonly started = new vscode.EventEmitter<void>();
  /// It runs, for the first time or again.
  readonly onRunning = this.started.event;

  constructor(private readonly log: vscode.LogOutputChannel, private readonly program: () => string) {
    this.item = vscode.languages.createLanguageStatusItem('dwell.status', { language: 'dwell' });
    this.item.name = 'Dwell';
    this.item.command = { command: 'dwell.showLog', title: 'Show the log' };
  }

  /// The way to the program, if it runs.
  get running(): LanguageClient | undefined {
    return this.client?.state === State.Running ? this.client : undefined;
  }

  async start(): Promise<void> {
    this.say('starting', vscode.LanguageStatusSeverity.Information, true);
    const command = this.program();
    const run = { command, args: ['lsp'] };
    const client = new LanguageClient('dwell', 'Dwell', { run, debug: run }, {
      documentSelector: [{ language: 'dwell' }],
      outputChannel: this.log,
      synchronize: { configurationSection: 'dwell' },
      initializationOptions: vscode.workspace.getConfiguration('dwell'),
    });
    this.client = client;
    client.onDidChangeState(change => {
      if (this.client !== client) return;
      if (change.newState === State.Running) {
        this.say('ready', vscode.LanguageStatusSeverity.Information, false);
        this.started.fire();
      }
      if (change.newState === State.Stopped) this.say('stopped', vscode.LanguageStatusSeverity.Warning, false);
    });
    try {
      await client.start();
    } catch (error) {
      this.log.error(String(error));
      this.say('failed', vscode.LanguageStatusSeverity.Error, false);
      const words = `Dwell: ${command} cannot be started. Set dwell.program to where it lies, or put it on the PATH.`;
      void vscode.window.showErrorMessage(words, 'Show the log', 'Open the setting').then(chosen => {
        if (chosen === 'Show the log') this.log.show();
        if (chosen === 'Open the setting') void vscode.commands.executeCommand('workbench.action.openSettings', 'dwell.program');
      });
    }
  }

  async restart(): Promise<void> {
    await this.stop();
    await this.start();
  }

  async stop(): Promise<void> {
    const client = this.client;
    this.client = undefined;
    try {
      await client?.stop();
    } catch (error) {
      // A program that never came up, or went away by itself, has nothing to be stopped.
      this.log.debug(String(error));
    }
  }

  dispose(): void {
    this.item.dispose();
    this.started.dispose();
    void this.stop();
  }

  private say(state: string, severity: vscode.LanguageStatusSeverity, busy: boolean): void {
    this.item.text = `Dwell: ${state}`;
    this.item.severity = severity;
    this.item.busy = busy;
  }
}

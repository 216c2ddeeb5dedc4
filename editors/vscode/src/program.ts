// Which program is started: the one that the user names, the one that comes with the extension, or the one on the PATH.
import * as fs from 'fs';
import * as path from 'path';
import * as vscode from 'vscode';

/// The path of the program, with a line in the log that says which it is and why.
export function program(context: vscode.ExtensionContext, log: vscode.LogOutputChannel): string {
  const name = process.platform === 'win32' ? 'dwell.exe' : 'dwell';
  // VS Code itself keeps back what a folder sets here while the folder is not trusted.
  const set = vscode.workspace.getConfiguration('dwell').get<string>('program', '').trim();
  if (set !== '') {
    log.info(`starting ${set}, as dwell.program says`);
    return set;
  }
  const bundled = path.join(context.extensionPath, 'bin', name);
  if (fs.existsSync(bundled)) {
    log.info(`starting ${bundled}, which comes with the extension`);
    return bundled;
  }
  log.info(`starting ${name} from the PATH`);
  return name;
}

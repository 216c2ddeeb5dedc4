-- Drives Neovim as a writer would, with the configuration that a user copies, and prints what was seen, a line for each thing.
local function say(words) io.stdout:write(words .. '\n') io.stdout:flush() end
local function wait(what, until_) if not vim.wait(30000, until_, 20) then say('never: ' .. what) vim.cmd 'cquit 1' end end
local function codes()
  local all = {}
  for _, found in ipairs(vim.diagnostic.get(0)) do table.insert(all, found.lnum + 1 .. ' ' .. found.code) end
  table.sort(all)
  return table.concat(all, ', ')
end
wait('findings', function() return #vim.diagnostic.get(0) > 0 end)
say('found: ' .. codes())
vim.fn.search 'remove belt-guard'
vim.fn.search 'belt-guard'
vim.lsp.buf.definition()
wait('the declaration', function() return vim.fn.line '.' < 5 end)
say('declared in line ' .. vim.fn.line '.')
vim.lsp.buf.rename 'belt-cover'
wait('the new name', function() return vim.fn.search('remove belt-cover', 'n') > 0 end)
say('renamed: ' .. vim.fn.getline(vim.fn.search('item belt', 'n')))
vim.cmd '%s/restore {/restore { refit belt-cover/'
wait('no finding', function() return #vim.diagnostic.get(0) == 0 end)
say('found: ' .. codes())
if vim.lsp.buf.format then vim.lsp.buf.format { timeout_ms = 30000 } else vim.lsp.buf.formatting_sync(nil, 30000) end
say('set: ' .. vim.fn.getline '$')
for _, client in ipairs((vim.lsp.get_clients or vim.lsp.get_active_clients)()) do vim.lsp.stop_client(client.id) end
wait('its end', function() return #(vim.lsp.get_clients or vim.lsp.get_active_clients)() == 0 end)
vim.cmd 'qall!'

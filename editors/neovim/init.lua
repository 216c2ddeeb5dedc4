-- Dwell in Neovim 0.7 and newer: what is a procedure, and who looks over the shoulder.
vim.cmd 'autocmd BufRead,BufNewFile *.dwell setfiletype dwell'
local dwell
vim.api.nvim_create_autocmd('FileType', { pattern = 'dwell', callback = function(about)
  vim.bo.commentstring = '# %s'
  dwell = dwell or vim.lsp.start_client { name = 'dwell', cmd = { 'dwell', 'lsp' }, root_dir = vim.fn.getcwd() }
  vim.lsp.buf_attach_client(about.buf, dwell)
end })

" Drives Vim with ALE as a writer would, with the configuration that a user copies, and prints what was seen, a line for each thing.
set nocompatible hidden noswapfile nomore shortmess+=F rtp+=/usr/share/vim-ale
filetype on
runtime plugin/ale.vim
execute 'source' $DWELL_COPIED
let g:ale_lint_delay = 0
let s:said = []
function! s:say(words)
  call add(s:said, a:words)
  call writefile(s:said, $DWELL_SAID)
endfunction
function! s:wait(what, done)
  let l:rounds = 0
  while l:rounds < 600 && !a:done()
    sleep 50m
    let l:rounds += 1
  endwhile
  if !a:done()
    call s:say('never: ' . a:what)
    cquit
  endif
endfunction
function! s:found()
  return join(sort(map(copy(ale#engine#GetLoclist(bufnr(''))), {_, one -> one.lnum . ' ' . one.code})), ', ')
endfunction
function! s:drive(timer)
  call s:wait('findings', {-> !empty(s:found())})
  call s:say('found: ' . s:found())
  call search('remove belt-guard')
  call search('belt-guard')
  ALEGoToDefinition
  call s:wait('the declaration', {-> line('.') < 5})
  call s:say('declared in line ' . line('.'))
  call feedkeys(":ALERename\<CR>\<C-u>belt-cover\<CR>", 'xt')
  call s:wait('the new name', {-> search('remove belt-cover', 'n') > 0})
  call s:say('renamed: ' . getline(search('item belt', 'n')))
  %s/restore {/restore { refit belt-cover/
  ALELint
  call s:wait('no finding', {-> empty(s:found())})
  call s:say('found: ' . s:found())
  qall!
endfunction
autocmd VimEnter * call timer_start(1, function('s:drive'))

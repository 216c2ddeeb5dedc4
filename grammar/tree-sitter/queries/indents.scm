; Neovim: one step further in between braces.
[
  (handling) (item) (quantity) (tool) (spec) (table) (row_group) (procedure)
  (needs) (leaves) (case) (block)
] @indent.begin
"}" @indent.branch @indent.end
(comment) @indent.auto
(ERROR "{") @indent.begin

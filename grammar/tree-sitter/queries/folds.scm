; What can be folded away: declarations, parts of a procedure, blocks.
[
  (handling) (item) (quantity) (tool) (spec) (table) (row_group) (procedure)
  (needs) (leaves) (step) (restore) (case) (block)
] @fold
(comment)+ @fold

; The outline as Zed shows it: the word of a declaration, its name and what stands inside.
(procedure "procedure" @context name: (name) @name) @item
(step "step" @context name: (name) @name) @item
(restore "restore" @name) @item
(case "case" @context title: (text) @name) @item
(spec "spec" @context name: (name) @name) @item
(table "table" @context name: (name) @name) @item
(series "series" @context name: (name) @name) @item
(handling "handling" @context name: (name) @name) @item
(item "item" @context name: (name) @name) @item
(quantity "quantity" @context name: (name) @name) @item
(tool "tool" @context name: (name) @name) @item
(hazard "hazard" @context name: (name) @name) @item
(variant "variant" @context name: (name) @name) @item
(positions "positions" @context name: (name) @name) @item

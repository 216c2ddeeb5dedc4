; What a file declares, and the steps of its procedures, for the lists of symbols that editors show.
(procedure name: (name) @name) @definition.function
(step name: (name) @name) @definition.method
(spec name: (name) @name) @definition.constant
(table name: (name) @name) @definition.constant
(series name: (name) @name) @definition.constant
(handling name: (name) @name) @definition.type
(item name: (name) @name) @definition.class
(quantity name: (name) @name) @definition.class
(tool name: (name) @name) @definition.class
(hazard name: (name) @name) @definition.class
(variant name: (name) @name) @definition.type
(positions name: (name) @name) @definition.type

(perform procedure: (name) @name) @reference.call
(refer procedure: (name) @name) @reference.call

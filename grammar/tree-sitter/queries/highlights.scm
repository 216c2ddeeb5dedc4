; What is coloured how. No two patterns take the same node: editors differ in which of them would hold. A name that is only used
; stands as plain text.

(comment) @comment
(text) @string
(escape_sequence) @string.escape
(placeholder) @string.special
[(number) (compound) (date)] @number
(unit) @type.builtin
["{" "}" "(" ")"] @punctuation.bracket
["," ":"] @punctuation.delimiter
["=" "->" ".." "±" "+" "-" "*" "/"] @operator

; ---- Words

["use" "procedure" "spec" "table" "series" "quantity" "handling" "item" "tool" "hazard" "variant" "positions"] @keyword
["revision" "applies" "needs" "leaves" "step" "restore" "case" "decide" "guarded" "simple" "signed" "twice" "ends" "withdrawn"] @keyword
["do" "measure" "read" "expect" "adjust" "ask" "let" "wait" "perform" "refer" "end" "cause" "choose" "back" "on" "keep" "note"] @keyword
["waive"] @keyword.exception
["to" "with" "by" "at" "of" "most" "least" "when" "where" "then"] @keyword
["is" "are" "not" "and" "or"] @keyword.operator
["for" "each"] @keyword.repeat
["if" "else" "otherwise"] @keyword.conditional
["again" "after" "every" "over" "until" "take" "averaging" "since" "from" "expected" "proves" "brings" "zeroes" "up" "times" "time"
 "nearest" "one" "target" "first" "because"] @keyword
["within" "any" "above" "below" "exactly" "meets" "misses"] @keyword.operator
["states" "proof" "may" "stay" "moves" "lasts" "checked" "has" "play" "located" "torque" "fits" "measures" "sets" "resolution" "accuracy"
 "calibrated" "months" "month" "warms" "settles" "zeroed" "before" "impedance" "reaches" "extends" "never" "limits" "means" "positive"
 "negative" "per" "steps" "check" "source" "stages" "turn" "condition" "adjustable" "rows" "between" "outside" "linear" "refuse" "low" "high"
 "no" "reading" "digits" "digit"] @keyword
(fold) @function.builtin
(function) @function.builtin
(level) @keyword.exception
(outcome) @constant.builtin

; ---- Names

(verb) @function
(procedure name: (name) @function)
(step name: (name) @label)
[(spec name: (name) @constant) (table name: (name) @constant) (series name: (name) @constant)]
[(handling name: (name) @type) (item name: (name) @type) (tool name: (name) @type) (quantity name: (name) @type)
 (hazard name: (name) @type) (variant name: (name) @type) (positions name: (name) @type)]
(transition verb: (name) @function)
(perform procedure: (name) @function)
(refer procedure: (name) @function)
(back step: (name) @label)
(on step: (name) @label)
(caution hazard: (name) @type)
(waive rule: (name) @string.special)

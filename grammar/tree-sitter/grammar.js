/**
 * The grammar of Dwell for editors that read with tree-sitter. It follows ../dwell.ebnf production by production.
 *
 * Every token but comments and what stands inside a text comes from src/scanner.c, since Dwell has three rules that need to
 * see line ends: a verb is the first word on its line, a name and a trailing text stand on the line of what they belong to,
 * and a unit stands on the line of its number. The words are those of words.json, made from crates/dwell-syntax/src/words.rs.
 */
/// <reference types="tree-sitter-cli/dsl" />
const WORDS = Object.values(require('./words.json')).flat();

// The scanner knows these by their order: src/scanner.c has the same list.
const SIGNS = {
  '{': 'open_brace', '}': 'close_brace', ',': 'comma', ':': 'colon', '=': 'equals', '->': 'arrow', '(': 'open_paren', ')': 'close_paren',
  '..': 'dots', '±': 'plus_minus', '+': 'plus', '-': 'minus', '*': 'times', '/': 'over',
};

/** The token of the scanner for a word or a sign. */
const token_of = text => SIGNS[text] ? `_sign_${SIGNS[text]}` : WORDS.includes(text) ? `_word_${text}` : undefined;

/** A rule whose words and signs come from the scanner: written as they stand in a text, and shown so in the tree. */
function scanned($, rule) {
  if (rule.type === 'STRING' && token_of(rule.value)) return alias($[token_of(rule.value)], rule.value);
  if (rule.members) return { ...rule, members: rule.members.map(member => scanned($, member)) };
  if (rule.content && !rule.type.endsWith('TOKEN') && rule.type !== 'ALIAS') return { ...rule, content: scanned($, rule.content) };
  if (rule.type === 'ALIAS') return { ...rule, content: scanned_under_alias($, rule.content) };
  return rule;
}

/** What gets another name needs none of its own. */
function scanned_under_alias($, rule) {
  if (rule.type === 'STRING' && token_of(rule.value)) return $[token_of(rule.value)];
  return scanned($, rule);
}

const list = rule => seq(rule, repeat(seq(',', rule)));
const is = choice('is', 'are');

module.exports = grammar({
  name: 'dwell',

  externals: $ => [
    ...[...WORDS, ...Object.keys(SIGNS)].map(text => $[token_of(text)]),
    $._name, // on the line of what waits for it
    $._subject, // on any line: begins an entry between braces
    $._verb, // the first word on its line, or right after a brace
    $._counted, // what is counted, after a number on its line
    $.number,
    $._signed, // a number with its sign where a deviation can stand
    $.compound,
    $.date,
    $.unit,
    $._quote, // opens a text on the line of what stands before
    $._line_quote, // opens a text that is the first on its line
    $._whole_text, // a text where none can stand, so that what could not be read does not part it
    $._whole_line_text,
    $._at_each,
    $._at_side, // before `least` or `most`
    $._at_amount, // before a number with a unit, or before the key of a row
    $._or_value, // before another value, not before another test
    $._by_proof,
    $._nothing, // what is no token
    $._error_sentinel,
  ],

  extras: $ => [/[ \t\r\n\u00a0\u202f]/, $.comment],

  inline: $ => [$._state_after_name, $._is],

  rules: Object.fromEntries(Object.entries({
    source_file: $ => repeat($._declaration),

    comment: _ => token(/#[^\n\r]*/),

    _declaration: $ => choice(
      $.use, $.handling, $.item, $.quantity, $.tool, $.hazard, $.variant, $.positions, $.spec, $.table, $.series, $.procedure,
    ),

    // ---- Declarations

    use: $ => seq('use', field('file', $.text)),
    handling: $ => seq('handling', field('name', $.name), '{', repeat(choice($.states, $.transition, $._line)), '}'),
    states: $ => seq('states', list($.name)),
    transition: $ => seq(
      choice(field('verb', alias($._subject, $.name)), seq(alias($._by_proof, 'by'), 'proof')),
      ':', list($.name), '->', field('to', $.name),
    ),
    item: $ => seq(
      'item', field('name', $.name), ':', list(field('handling', $.name)), optional($.at_each), optional(field('title', $._trailing)),
      optional($._lines),
    ),
    quantity: $ => seq(
      'quantity', field('name', $.name), ':', field('kind', $.name), optional($.at_each), optional(field('title', $._trailing)),
      optional($._lines),
    ),
    tool: $ => seq(
      'tool', field('name', $.name), ':', list(field('handling', $.name)), optional(field('title', $._trailing)), optional($._lines),
    ),
    hazard: $ => seq('hazard', field('name', $.name), ':', field('level', $.level), optional(field('title', $._trailing)), optional($._waivers)),
    level: _ => choice('danger', 'warning', 'caution', 'notice'),
    variant: $ => seq('variant', field('name', $.name), ':', list($._value), optional($._waivers)),
    positions: $ => seq('positions', field('name', $.name), ':', list($._value), optional($._waivers)),
    _waivers: $ => seq('{', repeat($.waive), '}'),

    // ---- Lines of a handling, an item, a quantity, a tool

    _lines: $ => seq('{', repeat($._line), '}'),
    _line: $ => choice($.waive, prec.right(seq(choice(
      $.brings, $.needs_line, $.moves, $.play, $.checked_by, $.signed_for, $.lasts, $.may_stay, $.torque, $.located, $.never, $.side,
      $.limits, $.means, $.computed, $.measures, $.sets, $.fits, $.calibrated, $.warms_up, $.settles, $.zeroed, $.impedance, $.reaches,
      $.extends,
    ), optional($.when)))),
    brings: $ => seq(field('subject', alias($._subject, $.name)), 'brings', $._effects),
    _effects: $ => list($.effect),
    effect: $ => prec.right(seq($.name, optional($._state_after_name))),
    needs_line: $ => seq(optional(field('subject', alias($._subject, $.name))), 'needs', list($.state_of)),
    moves: $ => prec.right(seq(
      optional(field('subject', alias($._subject, $.name))), 'moves', list($.name),
      optional(seq('by', $._printed, 'per', $._printed)), optional(seq('steps', 'of', $._printed)),
    )),
    play: $ => seq(field('subject', alias($._subject, $.name)), 'has', 'play', optional($.text)),
    checked_by: $ => seq(field('subject', alias($._subject, $.name)), 'checked', 'by', list($.name)),
    signed_for: $ => seq(field('subject', alias($._subject, $.name)), $.signed),
    lasts: $ => seq(field('subject', alias($._subject, $.name)), 'lasts', $._printed, optional(seq('after', $.name))),
    may_stay: $ => seq('may', 'stay', list($.name)),
    torque: $ => seq('torque', $.name),
    located: $ => seq('located', $.text),
    never: $ => seq('never', choice('below', 'above', 'outside'), $._range),
    side: $ => seq(choice('positive', 'negative'), $.text),
    limits: $ => seq('limits', alias($._at_side, 'at'), choice('least', 'most')),
    means: $ => seq('means', $.fold, optional(seq('over', $._counted_printed))),
    computed: $ => seq('is', $._formula),
    measures: $ => seq('measures', $._ability),
    sets: $ => seq('sets', $._ability),
    _ability: $ => prec.right(seq(
      field('kind', $.name), optional(choice($._range, $.bound)), optional(seq('resolution', $._printed)),
      optional(seq('accuracy', repeat1($.accuracy))), optional(seq('needs', list($.state_of))),
    )),
    accuracy: $ => prec.right(seq('±', $._counted_printed, optional(choice('digits', 'digit')), optional(seq('of', 'reading')))),
    fits: $ => seq('fits', $.text),
    calibrated: $ => seq('calibrated', 'every', $.number, choice('months', 'month')),
    warms_up: $ => seq('warms', 'up', $._printed),
    settles: $ => seq('settles', $._printed),
    zeroed: $ => seq('zeroed', choice('after', 'before'), 'each', $.name),
    impedance: $ => seq('impedance', $.band),
    reaches: $ => seq('reaches', $._printed),
    extends: $ => seq('extends', $._printed, optional(seq(choice('at', alias($._at_amount, 'at')), $._printed))),

    // ---- Values that a maker publishes

    spec: $ => seq('spec', field('name', $.name), ':', field('kind', $.name), '{', repeat($._spec_line), '}'),
    _spec_line: $ => choice(
      $.check, $.adjust_band, $.not_adjustable, $.source, $.condition_line, $.signed, $.stages, $.withdrawn, $.waive,
    ),
    check: $ => seq('check', $.band, optional($.when)),
    adjust_band: $ => seq('adjust', $.band, optional($.when)),
    not_adjustable: _ => seq('not', 'adjustable'),
    source: $ => seq('source', $.text),
    condition_line: $ => seq('condition', $.text),
    stages: $ => seq('stages', $.stage, repeat(seq('then', $.stage))),
    stage: $ => seq(optional('turn'), $.band),
    withdrawn: $ => seq('withdrawn', 'on', $.date, $.text),

    table: $ => seq(
      'table', field('name', $.name), ':', field('kind', $.name), 'by', field('by', $.name), '{',
      repeat(choice($.row, $.row_group, $.between, $.outside, $._spec_line)), '}',
    ),
    row: $ => seq(
      choice(seq(choice('at', alias($._at_amount, 'at')), $._range), seq(alias($._at_side, 'at'), choice('least', 'most'), $._formula)),
      ':', $.band,
    ),
    row_group: $ => seq('rows', optional($.when), '{', repeat($.row), '}'),
    between: _ => seq('between', 'rows', choice('linear', 'refuse')),
    outside: _ => seq('outside', 'rows', 'refuse'),

    series: $ => seq('series', field('name', $.name), ':', field('kind', $.name), $.band, 'steps', 'of', $._printed, optional($._waivers)),

    // ---- Procedures

    procedure: $ => seq(
      'procedure', field('name', $.name), optional(field('title', $._trailing)), '{', repeat($._part), '}',
    ),
    _part: $ => choice(
      $.revision, $.withdrawn, $.decide, $.applies, $.needs, $.leaves, $.keep, $.caution, $.note, $.waive, $.step, $.restore, $.case,
    ),
    revision: $ => seq('revision', $.number, 'on', $.date, optional($._trailing)),
    decide: _ => seq('decide', choice('guarded', 'simple')),
    applies: $ => seq('applies', 'to', $.name, list($._value)),
    needs: $ => seq('needs', '{', repeat(seq($.need, optional(','))), '}'),
    need: $ => seq(alias($._state_entry, $.state_of), optional(seq('by', $.name))),
    leaves: $ => seq('leaves', '{', repeat(seq(alias($._state_entry, $.state_of), optional(','))), '}'),
    step: $ => seq('step', field('name', $.name), optional(field('title', $._trailing)), optional($.signed), field('body', $.block)),
    signed: _ => prec.right(seq('signed', optional('twice'))),
    restore: $ => seq('restore', optional($.signed), field('body', $.block)),

    case: $ => seq('case', field('title', $.text), '{', repeat(choice($.entry, $.ends)), '}'),
    entry: $ => seq(field('reading', alias($._subject, $.name)), list($._case_value)),
    ends: $ => seq('ends', alias($._case_outcome, $.outcome)),
    _case_value: $ => choice($._printed, $.interval, $.readings, $.no_reading, seq(optional('not'), $.name)),
    interval: $ => seq(choice('above', 'below', seq(alias($._at_side, 'at'), choice('least', 'most'))), $._printed),
    readings: $ => seq('(', list(choice($.number, $.compound)), ')', optional($.unit)),
    no_reading: _ => seq('no', 'reading'),

    // ---- Statements

    block: $ => seq('{', repeat($._statement), '}'),
    _statement: $ => choice(
      $.caution, $.note, $.handle, $.do, $.measure, $.read, $.expect, $.adjust, $.if, $.ask, $.let, $.wait, $.perform, $.refer, $.cause,
      $.end, $.back, $.on, $.keep, $.for_each, $.choose, $.waive,
    ),
    caution: $ => seq(field('level', $.level), field('hazard', $.name), optional($._trailing)),
    note: $ => seq('note', $.text),
    waive: $ => seq('waive', field('rule', $.name), 'because', $.text),
    handle: $ => seq(
      field('verb', alias($._verb, $.verb)), field('item', $.name),
      repeat(choice(seq('to', choice($.name, $.band)), $.at_each, $.at_place, seq('with', list($.name)))), optional($._trailing),
    ),
    do: $ => seq('do', $.text, optional(seq('brings', $._effects)), optional(seq('zeroes', $.name))),
    measure: $ => prec.right(seq(
      'measure', list($._reading),
      repeat(choice(seq('with', field('tool', $.name)), 'again', $._clause)), optional($._trailing),
    )),
    _reading: $ => seq(field('reading', $.name), optional(seq(':', field('kind', $.name)))),
    _clause: $ => choice(
      $.at_each, $.at_place, seq('after', $._printed), seq('every', $._printed), seq('averaging', $._printed),
      seq('over', optional(seq(alias($._at_side, 'at'), 'most')), $._counted_printed), seq($.number, choice('times', 'time')),
      seq('take', $.fold), seq('until', $.condition),
    ),
    read: $ => seq('read', $._reading, 'from', $.text, optional(seq('expected', $.band))),
    expect: $ => seq('expect', $.condition, optional(seq('proves', $.state_of)), repeat($.otherwise)),
    otherwise: $ => seq(
      'otherwise', optional(seq(choice('low', 'high', $.no_reading), optional($.name))), field('body', $.block),
    ),
    adjust: $ => seq(
      'adjust', list(seq(field('reading', $.name), 'to', field('limit', $.name))), optional($._up_to), 'by', field('body', $.block),
      repeat($.otherwise),
    ),
    _up_to: $ => seq('up', 'to', $.number, choice('times', 'time')),
    if: $ => seq(
      'if', $.condition, field('body', $.block), repeat($.else_if), optional($.else),
    ),
    else_if: $ => seq('else', 'if', $.condition, field('body', $.block)),
    else: $ => seq('else', field('body', $.block)),
    ask: $ => seq('ask', field('answer', $.name), $.text, optional(seq('one', 'of', list($._value)))),
    let: $ => seq('let', $._reading, '=', choice($._formula, $.computed_band)),
    computed_band: $ => prec.right(seq(
      choice(seq($._formula, '..', $._formula), seq($._side, $._formula)),
      repeat(seq('never', choice('above', 'below'), $._printed)),
    )),
    wait: $ => seq('wait', $._printed, optional(seq('since', $.name, $.name)), optional($._trailing)),
    perform: $ => seq('perform', field('procedure', $.name), repeat($.otherwise)),
    refer: $ => seq('refer', 'to', field('procedure', $.name), optional($._trailing)),
    cause: $ => seq('cause', field('item', $.name), optional($._trailing)),
    end: $ => seq('end', $.outcome, optional($._trailing)),
    outcome: _ => choice('passed', 'failed', 'unfinished'),
    _case_outcome: _ => choice('passed', 'failed', 'unfinished', 'referred'),
    back: $ => prec.right(seq('back', 'to', field('step', $.name), optional($._up_to), repeat($.otherwise))),
    on: $ => seq('on', 'to', field('step', $.name)),
    keep: $ => prec.right(seq(
      'keep', $.name, optional($.at_place), choice($.bound, seq(optional($._is), $.name)), optional(seq('with', field('tool', $.name))),
      optional($._trailing), optional(field('body', $.block)), repeat($.otherwise),
    )),
    for_each: $ => seq('for', 'each', field('positions', $.name), optional(seq('where', $.condition)), field('body', $.block)),
    choose: $ => seq('choose', $.name, 'from', $.name, 'nearest', $._formula, repeat($.otherwise)),

    // ---- Conditions

    condition: $ => prec.right(seq(
      optional(choice('every', 'any')), $._test, choice(repeat(seq('and', $._test)), repeat1(seq('or', $._test))),
    )),
    _test: $ => choice($.meets, $.within, $.is_test),
    meets: $ => prec.right(seq(
      $._formula, choice('meets', 'misses'), field('limit', $.name), optional(seq(choice('at', alias($._at_amount, 'at')), $._formula)),
    )),
    within: $ => seq($._formula, $.bound),
    is_test: $ => prec.right(seq(
      $.placed, $._is, optional('not'), $._value, repeat(seq(choice(',', alias($._or_value, 'or')), $._value)),
      optional(seq('within', $._printed)),
    )),
    bound: $ => prec.right(choice(
      seq('within', $.band),
      seq($._side, $._formula, optional($._second_span)),
      seq('exactly', $._amount, optional($._second_span)),
    )),
    _side: $ => choice(seq(alias($._at_side, 'at'), choice('least', 'most')), 'above', 'below'),
    _is: _ => is,
    when: $ => seq('when', $._when_is, repeat(seq('and', $._when_is))),
    _when_is: $ => prec.right(seq($.name, $._is, $._value, repeat(seq(choice(',', alias($._or_value, 'or')), $._value)))),
    state_of: $ => seq($.name, $._state_after_name),
    _state_entry: $ => seq(alias($._subject, $.name), $._state_after_name),
    _state_after_name: $ => seq(optional($.at_place), $._is, field('state', $.name)),

    // ---- Bands and formulas

    band: $ => prec.right(seq(
      optional('within'), $._core,
      optional(choice(
        seq($._target, optional($._second_core)),
        seq($._second_core, optional($._target)),
      )),
    )),
    _target: $ => seq('target', $._printed),
    _second_core: $ => seq('(', $._core, ')'),
    _second_span: $ => seq('(', $._span, ')'),
    _core: $ => choice($._span, seq($._side, $._formula), seq('exactly', $._amount)),
    _span: $ => prec.right(seq(
      $._amount, optional(choice(seq(choice('..', '±'), $._amount), seq($._deviation, $._deviation))),
    )),
    _deviation: $ => seq(alias($._signed, $.number), optional($.unit)),
    _range: $ => prec.right(seq($._span, optional($._second_span))),
    _printed: $ => prec.right(seq($._amount, optional(seq('(', $._amount, ')')))),
    _amount: $ => prec.right(seq(choice($.number, $.compound), optional($.unit))),
    _counted_amount: $ => prec.right(seq(choice($.number, $.compound), optional(choice($.unit, alias($._counted, $.name))))),
    _counted_printed: $ => prec.right(seq($._counted_amount, optional(seq('(', $._counted_amount, ')')))),

    _formula: $ => choice($.sum, $._product),
    sum: $ => prec.left(1, seq($._formula, choice('+', '-'), $._product)),
    _product: $ => choice($.product, $._operand),
    product: $ => prec.left(2, seq($._product, choice('*', '/'), $._operand)),
    _operand: $ => choice($._formula_amount, $.placed, $.first, $.target_of, $.group, $.share, $.fold_of),
    _formula_amount: $ => prec.right(seq($._amount, optional($._second_core))),
    share: $ => seq($._amount, 'of', $._operand),
    fold_of: $ => seq(choice($.fold, $.function), 'of', $._operand),
    fold: _ => choice('lowest', 'highest', 'mean', 'spread', 'sum', 'furthest', 'last'),
    function: _ => choice('sine', 'root'),
    placed: $ => prec.right(seq($.name, repeat($.at_place))),
    first: $ => prec.right(seq('first', $.name, repeat($.at_place))),
    target_of: $ => prec.right(seq('target', 'of', $.name, repeat($.at_place))),
    group: $ => prec.right(seq('(', $._formula, ')', repeat($.at_place))),

    at_place: $ => seq('at', $._value),
    at_each: $ => seq(alias($._at_each, 'at'), 'each', $.name),
    _value: $ => choice($.name, $.number),
    name: $ => $._name,

    // ---- Texts

    text: $ => choice(seq(choice(alias($._quote, '"'), alias($._line_quote, '"')), $._inside), $._whole_text, $._whole_line_text),
    _trailing: $ => alias($._trailing_text, $.text),
    _trailing_text: $ => choice(seq(alias($._quote, '"'), $._inside), $._whole_text),
    _inside: $ => seq(repeat(choice($.escape_sequence, $.placeholder, $._fragment)), token.immediate('"')),
    _fragment: _ => choice(token.immediate(prec(1, /[^"\\{\n\r]+/)), token.immediate(/\{/)),
    escape_sequence: _ => token.immediate(/\\["\\]/),
    placeholder: _ => token.immediate(prec(1, /\{[^{}"\\\n\r]*\}/)),
  }).map(([name, rule]) => [name, $ => scanned($, rule($))])),
});

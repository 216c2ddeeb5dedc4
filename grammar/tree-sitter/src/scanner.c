// The scanner of the grammar: words, numbers, units and signs, by the rules of crates/dwell-syntax/src/lex.
//
// It remembers what the token before was, as far as that matters: after a brace a verb can stand on the same line, and after a
// comma or a sign that waits for something a name can stand on the next line. A word is tried as a word of the language first,
// where one can stand; where a name can stand as well, what follows decides, as it does in the parser of the program.
#include "tree_sitter/alloc.h"
#include "tree_sitter/parser.h"
#include "words.h"

#include <string.h>

enum {
  OPEN_BRACE = WORD_COUNT, CLOSE_BRACE, COMMA, COLON, EQUALS, ARROW, OPEN_PAREN, CLOSE_PAREN, DOTS, PLUS_MINUS, PLUS, MINUS, TIMES, OVER,
  NAME, SUBJECT, VERB, COUNTED, NUMBER, SIGNED, COMPOUND, DATE, UNIT, QUOTE, LINE_QUOTE, WHOLE_TEXT, WHOLE_LINE_TEXT,
  AT_EACH, AT_SIDE, AT_AMOUNT, OR_VALUE, BY_PROOF, NOTHING, ERROR_SENTINEL,
};

// Where a text begins it is as after a brace.
enum { AFTER_BRACE, AFTER_OTHER, AFTER_WAITING };

// What stands before a token: whether line ends do, and whether an empty line does.
typedef struct { bool blank, line, gap; } Before;

typedef struct {
  TSLexer *lexer;
  const bool *valid;
  char *state;
  Before before;
} Scan;

// A word of at most 31 bytes of ASCII, as all words of the language are; any other is kept as an empty one.
typedef struct { char text[32]; unsigned length; bool other; } Word;

static int32_t next(Scan *scan) { return scan->lexer->lookahead; }
static void skip(Scan *scan) { scan->lexer->advance(scan->lexer, true); }
static void take(Scan *scan) { scan->lexer->advance(scan->lexer, false); }
static void mark(Scan *scan) { scan->lexer->mark_end(scan->lexer); }

static bool is_digit(int32_t c) { return c >= '0' && c <= '9'; }
static bool is_blank(int32_t c) { return c == ' ' || c == '\t' || c == 0xA0 || c == 0x202F; }
static bool is_line_end(int32_t c) { return c == '\n' || c == '\r'; }

static bool is_letter(int32_t c) {
  if (c < 128) return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
  unsigned from = 0, to = LETTER_COUNT;
  while (from < to) {
    unsigned middle = (from + to) / 2;
    if (c > LETTERS[middle][1]) from = middle + 1;
    else to = middle;
  }
  return from < LETTER_COUNT && c >= LETTERS[from][0];
}
static bool in_word(int32_t c) { return is_letter(c) || is_digit(c); }

static bool finish(Scan *scan, TSSymbol symbol) {
  scan->lexer->result_symbol = symbol;
  switch (symbol) {
    case OPEN_BRACE: case CLOSE_BRACE: *scan->state = AFTER_BRACE; break;
    case COMMA: case COLON: case EQUALS: case ARROW: case OPEN_PAREN: case PLUS: case MINUS: case TIMES: case OVER:
    case WORD_AND: case WORD_OR: case OR_VALUE: case WORD_THEN: case WORD_FIRST: *scan->state = AFTER_WAITING; break;
    default: *scan->state = AFTER_OTHER;
  }
  return true;
}

static bool finish_here(Scan *scan, TSSymbol symbol) {
  mark(scan);
  return finish(scan, symbol);
}

// ---- Looking ahead, after the end of the token is marked

static void pass_blanks(Scan *scan, bool lines) {
  for (bool comment = false;; take(scan)) {
    int32_t c = next(scan);
    if (scan->lexer->eof(scan->lexer)) return;
    if (is_line_end(c)) comment = false;
    else if (lines && c == '#') comment = true;
    if (!comment && !is_blank(c) && !(lines && is_line_end(c))) return;
  }
}

static void add(Word *word, int32_t c) {
  if (c > 127 || word->length + 1 >= sizeof word->text) word->other = true;
  else word->text[word->length++] = (char)c;
  if (word->other) word->length = 1;
}
static void close(Word *word) { word->text[word->other ? 0 : word->length] = 0; }

// Reads a word where one begins; `-` belongs to it where a letter or a digit follows.
static Word read_word(Scan *scan) {
  Word word = {.length = 0};
  while (in_word(next(scan)) || (next(scan) == '-' && word.length > 0)) {
    int32_t c = next(scan);
    take(scan);
    if (c == '-' && !in_word(next(scan))) break;
    add(&word, c);
  }
  close(&word);
  return word;
}

static int word_of(const Word *word) {
  for (int i = 0; i < WORD_COUNT && word->text[0]; i++)
    if (strcmp(WORDS[i], word->text) == 0) return i;
  return -1;
}

static bool is_hard(int word) { return word >= 0 && word < HARD_COUNT; }
static bool is_fold(int word) { return word >= WORD_LOWEST && word <= WORD_LAST; }
static bool begins_test(int word) {
  switch (word) {
    case WORD_MEETS: case WORD_MISSES: case WORD_WITHIN: case WORD_ABOVE: case WORD_BELOW: case WORD_EXACTLY: case WORD_AT: case WORD_IS:
    case WORD_ARE: return true;
    default: return false;
  }
}
static bool follows_subject(int word) {
  switch (word) {
    case WORD_BRINGS: case WORD_NEEDS: case WORD_MOVES: case WORD_LASTS: case WORD_HAS: case WORD_CHECKED: case WORD_SIGNED: return true;
    default: return false;
  }
}
static bool begins_statement(int word) {
  return (word >= WORD_DO && word <= WORD_NOTICE) || word == WORD_STEP || word == WORD_RESTORE || word == WORD_PROCEDURE || word == WORD_CASE;
}

static int peek_word(Scan *scan) {
  pass_blanks(scan, true);
  Word word = read_word(scan);
  return word.length ? word_of(&word) : -1;
}

// Whether a number with a unit, or the key of a row, stands next.
static bool peek_amount(Scan *scan) {
  if (next(scan) == '+' || next(scan) == '-') return true;
  while (is_digit(next(scan)) || next(scan) == '/' || next(scan) == '.') {
    bool point = next(scan) == '.';
    take(scan);
    if (point && !is_digit(next(scan))) return true;
  }
  pass_blanks(scan, false);
  int32_t c = next(scan);
  if (in_word(c) && c < 128) {
    Word word = read_word(scan);
    return word_of(&word) < 0;
  }
  return c == ':' || c == '.' || c == '+' || c == '%' || c > 127;
}

// After `or`: whether a test begins, not another value.
static bool peek_test(Scan *scan) {
  pass_blanks(scan, true);
  if (!in_word(next(scan))) return true;
  Word word = read_word(scan);
  int found = word_of(&word);
  if (is_hard(found)) return true;
  bool blank = is_blank(next(scan)) || is_line_end(next(scan));
  pass_blanks(scan, true);
  switch (next(scan)) {
    case '+': case '-': case '*': case '/': case 0xB7: case '.': return blank || next(scan) == '.';
  }
  if (is_digit((unsigned char)word.text[0]) && (next(scan) == '%' || next(scan) > 127)) return true;
  Word after = read_word(scan);
  int follows = word_of(&after);
  if (is_digit((unsigned char)word.text[0]) && after.length && follows < 0) return true;
  return begins_test(follows) || follows == WORD_OF;
}

// ---- Units

// The spellings that go on with the characters read so far: a run of the sorted table.
typedef struct { unsigned from, to, depth; bool ends; } Units;

// Whether a unit can stand here: right after a number, on its line.
static bool can_be_unit(const Scan *scan) {
  return scan->valid[UNIT] && !scan->valid[ERROR_SENTINEL] && !scan->before.line;
}

static bool go_on(Units *units, int32_t c) {
  char bytes[4];
  unsigned length = 0;
  if (is_blank(c)) c = ' ';
  if (c == 0x3BC) c = 0xB5;
  if (c == 0x2126) c = 0x3A9;
  if (c == 0x212A) c = 'K';
  if (c == 0x22C5 || c == 0x2219) c = 0xB7;
  if (c < 0x80) {
    bytes[length++] = (char)c;
  } else if (c < 0x800) {
    bytes[length++] = (char)(0xC0 | c >> 6);
    bytes[length++] = (char)(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    bytes[length++] = (char)(0xE0 | c >> 12);
    bytes[length++] = (char)(0x80 | (c >> 6 & 0x3F));
    bytes[length++] = (char)(0x80 | (c & 0x3F));
  } else {
    units->to = units->from;
    return false;
  }
  for (unsigned i = 0; i < length; i++, units->depth++) {
    while (units->from < units->to && UNITS[units->from][units->depth] != bytes[i]) units->from++;
    unsigned to = units->from;
    while (to < units->to && UNITS[to][units->depth] == bytes[i]) to++;
    units->to = to;
  }
  units->ends = units->from < units->to && UNITS[units->from][units->depth] == 0;
  return units->from < units->to;
}

// Goes on from the characters read so far to the end of the longest unit, and marks it. Where a joiner such as `/` stands behind a
// unit, the character behind that decides whether the unit ends there.
static bool scan_unit(Scan *scan, Units units) {
  bool found = false;
  while (units.from < units.to) {
    int32_t c = next(scan);
    bool joiner = c == '/' || c == '*' || c == 0xB7 || c == '^' || c == '-';
    bool ends = units.ends && !in_word(c) && c != '_';
    if (ends) mark(scan);
    if (c == 0 || is_line_end(c) || scan->lexer->eof(scan->lexer)) return found || ends;
    if (!go_on(&units, c) && !(ends && joiner)) return found || ends;
    take(scan);
    found = found || (ends && !(joiner && in_word(next(scan))));
  }
  return found;
}

// ---- Tokens

static bool scan_at(Scan *scan) {
  const bool *valid = scan->valid;
  pass_blanks(scan, true);
  if (is_digit(next(scan)) || next(scan) == '+' || next(scan) == '-') {
    bool amount = peek_amount(scan);
    if (valid[AT_AMOUNT] && (amount || !valid[WORD_AT])) return finish(scan, AT_AMOUNT);
    return finish(scan, WORD_AT);
  }
  int word = peek_word(scan);
  if (word == WORD_EACH) return finish(scan, AT_EACH);
  if (word == WORD_LEAST || word == WORD_MOST) return finish(scan, AT_SIDE);
  return finish(scan, WORD_AT);
}

// Whether the word `found`, which can stand here as one of the language, is a name after all.
static bool is_name_after_all(Scan *scan, int found, bool name, bool subject, bool verb) {
  if (subject) {
    if (found == WORD_ENDS) {
      // A reading of that name has a value; that it is one word is not foreseen.
      pass_blanks(scan, true);
      if (!is_letter(next(scan))) return true;
      int after = peek_word(scan);
      return after == WORD_NO || after == WORD_NOT || after == WORD_ABOVE || after == WORD_BELOW || after == WORD_AT;
    }
    pass_blanks(scan, true);
    if (next(scan) == ':') return true;
    return follows_subject(peek_word(scan));
  }
  if (name) {
    if (is_fold(found) || found == WORD_SINE || found == WORD_ROOT || found == WORD_TARGET) return peek_word(scan) != WORD_OF;
    if (found == WORD_NO) return peek_word(scan) != WORD_READING;
    if (found == WORD_WITHIN || found == WORD_ABOVE || found == WORD_BELOW || found == WORD_EXACTLY) {
      // Without something to compare with it is a value or a state of that name.
      pass_blanks(scan, false);
      int32_t c = next(scan);
      if (scan->valid[WORD_NO]) return !is_digit(c) && c != '-' && c != '+';
      return is_line_end(c) || c == '{' || c == '}' || c == '"' || c == '#';
    }
    if (found == WORD_FIRST) {
      pass_blanks(scan, true);
      if (!is_letter(next(scan))) return true;
      int after = peek_word(scan);
      return begins_test(after) || is_hard(after);
    }
    if (found == WORD_EVERY || found == WORD_ANY) return begins_test(peek_word(scan));
    return false;
  }
  if (verb) {
    if (found == WORD_TAKE) return !is_fold(peek_word(scan));
    if (found == WORD_ONE) return peek_word(scan) != WORD_OF;
    if (found == WORD_UP) return peek_word(scan) != WORD_TO;
    if (found == WORD_EVERY || found == WORD_AFTER || found == WORD_AVERAGING) {
      pass_blanks(scan, true);
      return is_letter(next(scan));
    }
  }
  return false;
}

static bool scan_word(Scan *scan) {
  const bool *valid = scan->valid;
  const Before before = scan->before;
  Units units = {.to = can_be_unit(scan) ? UNIT_COUNT : 0};
  // The word; the spellings of units that begin like it go along.
  Word word = {.length = 0};
  bool unit = false;
  while (in_word(next(scan)) || (next(scan) == '-' && word.length > 0)) {
    int32_t c = next(scan);
    if (c == '-') {
      mark(scan);
      unit = units.from < units.to && units.ends;
    }
    if (units.from < units.to) go_on(&units, c);
    take(scan);
    if (c == '-' && !in_word(next(scan))) break;
    unit = false;
    mark(scan);
    add(&word, c);
  }
  close(&word);
  int found = word_of(&word);
  if (!is_hard(found) && (unit || scan_unit(scan, units))) return finish(scan, UNIT);
  if (word.length == 0) return finish(scan, NOTHING);

  if (found == WORD_AT) return scan_at(scan);
  if (found == WORD_OR && valid[OR_VALUE] && !valid[ERROR_SENTINEL])
    return finish(scan, valid[WORD_OR] && peek_test(scan) ? WORD_OR : OR_VALUE);
  if (found == WORD_BY && valid[BY_PROOF] && (peek_word(scan) == WORD_PROOF || !valid[WORD_BY])) return finish(scan, BY_PROOF);
  if (is_hard(found)) return finish(scan, found);

  bool line_first = before.line || *scan->state == AFTER_BRACE;
  bool fresh = before.line && (*scan->state != AFTER_WAITING || before.gap);
  bool can_verb = line_first && !begins_statement(found);
  if (valid[ERROR_SENTINEL]) {
    if (found >= 0) return finish(scan, found);
    return finish(scan, can_verb ? VERB : NAME);
  }
  // How a procedure ends stands on the line of its word; only in a case it may stand on the next.
  if (found >= WORD_PASSED && found <= WORD_REFERRED && valid[found] && before.line && !valid[WORD_REFERRED]) return finish(scan, VERB);
  bool name = valid[NAME] && !fresh, subject = valid[SUBJECT], verb = valid[VERB] && can_verb;
  if (found >= 0 && valid[found]) {
    bool other = (name || subject || verb) && is_name_after_all(scan, found, name, subject, verb);
    if (!other) return finish(scan, found);
  }
  if (valid[COUNTED] && !before.line && found < 0) return finish(scan, COUNTED);
  if (name) return finish(scan, NAME);
  if (subject) return finish(scan, SUBJECT);
  if (verb) return finish(scan, VERB);
  // Nothing that can stand here: the word is named as what it most likely is, so that the parser can go on with it.
  if (found >= 0) return finish(scan, found);
  return finish(scan, can_verb ? VERB : NAME);
}

// The rank of a mark of a compound number that stands next, or -1: degrees 0, minutes 1, seconds 2; hours 10, minutes 11, seconds 12.
static int take_rank(Scan *scan) {
  int32_t c = next(scan);
  if (c == 0xB0 || c == 0x2032 || c == 0x2033) {
    take(scan);
    return c == 0xB0 ? 0 : c == 0x2032 ? 1 : 2;
  }
  if (!is_letter(c)) return -1;
  Word word = read_word(scan);
  if (strcmp(word.text, "deg") == 0) return 0;
  if (strcmp(word.text, "h") == 0) return 10;
  if (strcmp(word.text, "min") == 0) return 11;
  if (strcmp(word.text, "s") == 0) return 12;
  return -1;
}

// Goes on after a whole number: `1/32`, `2 1/4`, `2031-02-11`, `1 h 30 min`. The end of the number itself is marked.
static TSSymbol after_whole(Scan *scan, unsigned digits) {
  if (next(scan) == '/') {
    take(scan);
    if (!is_digit(next(scan))) return NUMBER;
    while (is_digit(next(scan))) take(scan);
    mark(scan);
    return NUMBER;
  }
  if (next(scan) == '-' && digits == 4) {
    for (int part = 0; part < 2; part++) {
      if (next(scan) != '-') return NUMBER;
      take(scan);
      for (int i = 0; i < 2; i++) {
        if (!is_digit(next(scan))) return NUMBER;
        take(scan);
      }
    }
    if (in_word(next(scan))) return NUMBER;
    mark(scan);
    return DATE;
  }
  bool blank = is_blank(next(scan));
  pass_blanks(scan, false);
  if (is_digit(next(scan))) {
    while (is_digit(next(scan))) take(scan);
    if (!blank || next(scan) != '/') return NUMBER;
    take(scan);
    if (!is_digit(next(scan))) return NUMBER;
    while (is_digit(next(scan))) take(scan);
    mark(scan);
    return NUMBER;
  }
  TSSymbol symbol = NUMBER;
  for (int rank = take_rank(scan), last; rank >= 0; rank = last) {
    pass_blanks(scan, false);
    if (!is_digit(next(scan))) break;
    while (is_digit(next(scan))) take(scan);
    if (next(scan) == '.') {
      take(scan);
      if (!is_digit(next(scan))) break;
      while (is_digit(next(scan))) take(scan);
    }
    pass_blanks(scan, false);
    last = take_rank(scan);
    if (last <= rank || last / 10 != rank / 10) break;
    mark(scan);
    symbol = COMPOUND;
  }
  return symbol;
}

static bool scan_number(Scan *scan, bool sign) {
  unsigned digits = 0;
  // `1/min` is a unit, `1/2` is none.
  if (!sign && next(scan) == '1' && can_be_unit(scan)) {
    Units units = {.to = UNIT_COUNT};
    take(scan);
    mark(scan);
    digits = 1;
    if (next(scan) == '/') {
      take(scan);
      if (is_letter(next(scan)) && go_on(&units, '1') && go_on(&units, '/') && scan_unit(scan, units)) return finish(scan, UNIT);
      if (!is_digit(next(scan))) return finish(scan, NUMBER);
      while (is_digit(next(scan))) take(scan);
      return finish_here(scan, NUMBER);
    }
  }
  while (is_digit(next(scan))) {
    take(scan);
    digits++;
  }
  mark(scan);
  TSSymbol symbol = NUMBER;
  bool point = next(scan) == '.';
  if (point) {
    take(scan);
    if (is_digit(next(scan))) {
      while (is_digit(next(scan))) take(scan);
      mark(scan);
    }
  }
  if (next(scan) == ',') {
    // `2,5` is no number, and no list either: a blank stands behind a comma between numbers.
    take(scan);
    if (is_digit(next(scan))) return finish(scan, NOTHING);
  } else if (!point) {
    symbol = after_whole(scan, sign ? 0 : digits);
  }
  if (symbol == NUMBER && sign && scan->valid[SIGNED] && !scan->valid[ERROR_SENTINEL]) symbol = SIGNED;
  return finish(scan, symbol);
}

// A sign that calculates has blanks on both sides.
static bool scan_operator(Scan *scan, TSSymbol symbol) {
  mark(scan);
  bool after = is_blank(next(scan)) || is_line_end(next(scan)) || scan->lexer->eof(scan->lexer);
  return finish(scan, scan->before.blank && after ? symbol : NOTHING);
}

// Where a text can stand, its quote is a token, and the parser reads on; elsewhere the whole text is one.
static bool scan_text(Scan *scan) {
  const bool *valid = scan->valid;
  bool line = scan->before.line;
  mark(scan);
  if (valid[line ? LINE_QUOTE : QUOTE] && !valid[ERROR_SENTINEL]) return finish(scan, line ? LINE_QUOTE : QUOTE);
  while (next(scan) != '"' && !is_line_end(next(scan)) && !scan->lexer->eof(scan->lexer)) {
    if (next(scan) == '\\') take(scan);
    if (!is_line_end(next(scan))) take(scan);
  }
  if (next(scan) == '"') take(scan);
  return finish_here(scan, line ? WHOLE_LINE_TEXT : WHOLE_TEXT);
}

static bool scan_sign(Scan *scan) {
  int32_t c = next(scan);
  take(scan);
  switch (c) {
    case '{': return finish_here(scan, OPEN_BRACE);
    case '}': return finish_here(scan, CLOSE_BRACE);
    case ',': return finish_here(scan, COMMA);
    case ':': return finish_here(scan, COLON);
    case '=': return finish_here(scan, EQUALS);
    case '(': return finish_here(scan, OPEN_PAREN);
    case ')': return finish_here(scan, CLOSE_PAREN);
    case 0xB1: return finish_here(scan, PLUS_MINUS);
    case '"': return scan_text(scan);
    case '.':
      if (next(scan) != '.') return finish_here(scan, NOTHING);
      take(scan);
      return finish_here(scan, DOTS);
    case '-':
      if (is_digit(next(scan))) return scan_number(scan, true);
      if (next(scan) != '>') return scan_operator(scan, MINUS);
      take(scan);
      return finish_here(scan, ARROW);
    case '+':
      if (is_digit(next(scan))) return scan_number(scan, true);
      mark(scan);
      if (next(scan) == '/') {
        take(scan);
        if (next(scan) != '-') return finish(scan, NOTHING);
      }
      if (next(scan) == '-') {
        take(scan);
        return finish_here(scan, PLUS_MINUS);
      }
      return scan_operator(scan, PLUS);
    case '*': case 0xB7: return scan_operator(scan, TIMES);
    case '/': return scan_operator(scan, OVER);
    default: return finish_here(scan, NOTHING);
  }
}

bool tree_sitter_dwell_external_scanner_scan(void *payload, TSLexer *lexer, const bool *valid) {
  Scan scan = {.lexer = lexer, .valid = valid, .state = payload};
  unsigned line_ends = 0;
  for (int32_t last = 0; is_blank(next(&scan)) || is_line_end(next(&scan)); skip(&scan)) {
    int32_t c = next(&scan);
    scan.before.blank = true;
    if (is_line_end(c) && !(c == '\n' && last == '\r')) line_ends++;
    last = c;
  }
  scan.before.line = line_ends > 0;
  scan.before.gap = line_ends > 1;
  int32_t c = next(&scan);
  if (lexer->eof(lexer) || c == '#') return false;
  bool begins_unit = c == '%' || (c > 127 && c != 0xB1 && c != 0xB7);
  if (is_letter(c) || (can_be_unit(&scan) && begins_unit)) return scan_word(&scan);
  if (is_digit(c)) return scan_number(&scan, false);
  return scan_sign(&scan);
}

void *tree_sitter_dwell_external_scanner_create(void) { return ts_calloc(1, sizeof(char)); }

void tree_sitter_dwell_external_scanner_destroy(void *payload) { ts_free(payload); }

unsigned tree_sitter_dwell_external_scanner_serialize(void *payload, char *buffer) {
  buffer[0] = *(char *)payload;
  return 1;
}

void tree_sitter_dwell_external_scanner_deserialize(void *payload, const char *buffer, unsigned length) {
  *(char *)payload = length > 0 ? buffer[0] : AFTER_BRACE;
}

//! The one table of lines: byte offsets to lines and columns, with LF, CRLF and CR as line ends and nothing else.

/// Where each line of a text begins, in bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines {
    starts: Vec<usize>,
}

impl Default for Lines {
    /// Those of an empty text.
    fn default() -> Lines {
        Lines::of("")
    }
}

impl Lines {
    /// Reads the line ends of `text`. U+2028, NEL, VT and FF end no line.
    pub fn of(text: &str) -> Lines {
        let mut starts = vec![0];
        let mut bytes = text.bytes().enumerate().peekable();
        while let Some((at, byte)) = bytes.next() {
            match byte {
                b'\n' => starts.push(at + 1),
                b'\r' if bytes.peek().map(|(_, next)| *next) != Some(b'\n') => starts.push(at + 1),
                _ => {}
            }
        }
        Lines { starts }
    }

    /// The line that holds the byte `offset`, counted from 0.
    pub fn line(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start <= offset).saturating_sub(1)
    }

    /// The byte at which line `line` (from 0) begins; the last line's for a line past the end.
    pub fn start(&self, line: usize) -> usize {
        self.starts.get(line).or(self.starts.last()).copied().unwrap_or(0)
    }

    /// Line and column of `offset` in `text`, both from 1, the column in characters as a person counts them.
    pub fn place(&self, text: &str, offset: usize) -> (usize, usize) {
        let line = self.line(offset);
        let start = self.start(line);
        let column = text
            .get(start..)
            .map_or(0, |rest| rest.char_indices().take_while(|(at, _)| start + at < offset).count());
        (line + 1, column + 1)
    }

    /// How many lines there are; an empty text has one.
    pub fn count(&self) -> usize {
        self.starts.len()
    }
}

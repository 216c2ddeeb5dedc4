//! The frames of the protocol: `Content-Length`, an empty line, so many bytes.

use std::io;
use tokio::io::{AsyncBufRead, AsyncBufReadExt, AsyncReadExt, AsyncWrite, AsyncWriteExt};

/// The longest message that is read, 256 MiB: four times the longest file that is read from a disk.
const MOST: usize = 256 * 1024 * 1024;

/// The body of the next frame; none at the end of the input. Header names are read in any letter case, and headers that
/// say nothing about the length are passed over.
///
/// # Errors
/// A sentence: a header without a length, a body that is cut off, or a failure of the pipe.
pub(crate) async fn read(input: &mut (impl AsyncBufRead + Unpin)) -> io::Result<Option<Vec<u8>>> {
    let mut length = None;
    let mut any = false;
    loop {
        let mut line = Vec::new();
        let read = input.take(64 * 1024).read_until(b'\n', &mut line).await?;
        if read == 0 {
            return if any { Err(broken("the input ends within a header")) } else { Ok(None) };
        }
        any = true;
        let line = String::from_utf8_lossy(&line);
        let line = line.trim_end_matches(['\r', '\n']);
        if line.is_empty() {
            break;
        }
        if let Some((name, value)) = line.split_once(':')
            && name.trim().eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse::<usize>().ok().filter(|length| *length <= MOST);
        }
    }
    let Some(length) = length else {
        return Err(broken("a message comes without a length that can be read"));
    };
    let mut body = vec![0; length];
    input.read_exact(&mut body).await?;
    Ok(Some(body))
}

/// Writes one frame whole.
///
/// # Errors
/// As the pipe does.
pub(crate) async fn write(output: &mut (impl AsyncWrite + Unpin), body: &[u8]) -> io::Result<()> {
    let mut frame = format!("Content-Length: {}\r\n\r\n", body.len()).into_bytes();
    frame.extend_from_slice(body);
    output.write_all(&frame).await?;
    output.flush().await
}

fn broken(what: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, what)
}

#[cfg(test)]
mod tests {
    use super::{read, write};

    #[tokio::test]
    async fn frames_are_read_with_any_headers_and_whatever_case() -> std::io::Result<()> {
        let input = b"content-length: 2\r\nX-Other: a\r\n\r\n{}Content-Length:3\n\n[1]" as &[u8];
        let mut input = tokio::io::BufReader::new(input);
        assert_eq!(read(&mut input).await?, Some(b"{}".to_vec()));
        assert_eq!(read(&mut input).await?, Some(b"[1]".to_vec()));
        assert_eq!(read(&mut input).await?, None);
        let mut out = Vec::new();
        write(&mut out, b"{}").await?;
        assert_eq!(out, b"Content-Length: 2\r\n\r\n{}");
        Ok(())
    }

    #[tokio::test]
    async fn a_frame_that_is_cut_off_or_has_no_length_is_an_error() {
        for input in
            ["Content-Length: 5\r\n\r\n{}", "Other: 1\r\n\r\n{}", "Content-Length: x\r\n\r\n", "Conten"]
        {
            let mut reader = tokio::io::BufReader::new(input.as_bytes());
            assert!(read(&mut reader).await.is_err(), "{input}");
        }
    }
}

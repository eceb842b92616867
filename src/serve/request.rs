//! Reads the head of a request, bounded in size and time.

use std::io::{BufRead, Read};
use std::time::{Duration, Instant};

/// Bytes that a request's head may have.
const HEAD_BYTES: u64 = 8 * 1024;

/// What a request asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    pub method: String,
    /// The path without the query.
    pub path: String,
    pub host: Option<String>,
}

/// Why a request was not understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unread {
    /// The client said nothing, hung up, or took too long.
    Gone,
    /// The head is longer than is taken.
    TooLong,
    /// Not a request of HTTP/1.
    Malformed,
}

/// Reads up to the empty line that ends the head; a body is left unread.
pub fn read(from: &mut impl BufRead, patience: Duration) -> Result<Request, Unread> {
    let since = Instant::now();
    let mut head = from.take(HEAD_BYTES);
    let mut line = || {
        let mut text = Vec::new();
        head.read_until(b'\n', &mut text).map_err(|_| Unread::Gone)?;
        if since.elapsed() > patience {
            return Err(Unread::Gone);
        }
        match text.last() {
            Some(b'\n') => String::from_utf8(text)
                .map(|text| text.trim_end_matches(['\r', '\n']).to_owned())
                .map_err(|_| Unread::Malformed),
            _ if head.limit() == 0 => Err(Unread::TooLong),
            _ => Err(Unread::Gone),
        }
    };
    let start = line()?;
    let mut words = start.split(' ');
    let (Some(method), Some(target), Some(version), None) =
        (words.next(), words.next(), words.next(), words.next())
    else {
        return Err(Unread::Malformed);
    };
    if !version.starts_with("HTTP/1.") || !target.starts_with('/') {
        return Err(Unread::Malformed);
    }
    let path = target.split(['?', '#']).next().unwrap_or_default().to_owned();
    let mut request = Request { method: method.to_owned(), path, host: None };
    loop {
        let field = line()?;
        if field.is_empty() {
            return Ok(request);
        }
        let (name, value) = field.split_once(':').ok_or(Unread::Malformed)?;
        if name.eq_ignore_ascii_case("host") {
            if request.host.is_some() {
                return Err(Unread::Malformed);
            }
            request.host = Some(value.trim().to_owned());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(text: &str) -> Result<Request, Unread> {
        read(&mut text.as_bytes(), Duration::from_secs(1))
    }

    #[test]
    fn a_request_is_read_to_its_empty_line() {
        let request = parsed("GET /a.html?x=1 HTTP/1.1\r\nHOST: localhost:1\r\n\r\nrest").unwrap();
        assert_eq!(request.method, "GET");
        assert_eq!(request.path, "/a.html");
        assert_eq!(request.host.as_deref(), Some("localhost:1"));
    }

    #[test]
    fn what_is_no_request_is_told_apart() {
        assert_eq!(parsed(""), Err(Unread::Gone));
        assert_eq!(parsed("GET / HTTP/1.1\r\nHost: a\r\n"), Err(Unread::Gone));
        assert_eq!(parsed("hello\r\n\r\n"), Err(Unread::Malformed));
        assert_eq!(parsed("GET http://a/ HTTP/1.1\r\n\r\n"), Err(Unread::Malformed));
        assert_eq!(parsed("GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n"), Err(Unread::Malformed));
        let long = format!("GET / HTTP/1.1\r\nX: {}\r\n\r\n", "x".repeat(9000));
        assert_eq!(parsed(&long), Err(Unread::TooLong));
    }
}

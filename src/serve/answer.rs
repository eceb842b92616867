//! Answers a request from the fixed list of files.

use std::fs;
use std::io::{self, Write};

use super::Offer;
use super::request::{Request, Unread};

/// Writes the whole answer; the connection is closed after it.
pub fn write(
    to: &mut impl Write,
    request: Result<Request, Unread>,
    port: u16,
    offers: &[Offer],
) -> io::Result<()> {
    let request = match request {
        Ok(request) => request,
        Err(Unread::Gone) => return Ok(()),
        Err(Unread::TooLong) => return bare(to, "431 Request Header Fields Too Large", ""),
        Err(Unread::Malformed) => return bare(to, "400 Bad Request", ""),
    };
    if !is_us(request.host.as_deref(), port) {
        return bare(to, "421 Misdirected Request", "");
    }
    let with_body = match request.method.as_str() {
        "GET" => true,
        "HEAD" => false,
        _ => return bare(to, "405 Method Not Allowed", "Allow: GET, HEAD\r\n"),
    };
    let Some(offer) = offers.iter().find(|offer| offer.name == request.path) else {
        return bare(to, "404 Not Found", "");
    };
    let Ok(body) = fs::read(&offer.file) else {
        return bare(to, "404 Not Found", "");
    };
    head(to, "200 OK", &format!("Content-Type: {}\r\n", offer.kind), body.len())?;
    if with_body {
        to.write_all(&body)?;
    }
    to.flush()
}

/// A page of another site whose name was made to point here must not read the answers: the host
/// that the client asked for has to be the loopback address itself.
fn is_us(host: Option<&str>, port: u16) -> bool {
    host.is_some_and(|host| {
        [format!("127.0.0.1:{port}"), format!("localhost:{port}")].iter().any(|ours| ours == host)
    })
}

fn bare(to: &mut impl Write, status: &str, fields: &str) -> io::Result<()> {
    head(to, status, fields, 0)?;
    to.flush()
}

fn head(to: &mut impl Write, status: &str, fields: &str, length: usize) -> io::Result<()> {
    write!(
        to,
        "HTTP/1.1 {status}\r\n{fields}Content-Length: {length}\r\nCache-Control: no-store\r\n\
         X-Content-Type-Options: nosniff\r\nReferrer-Policy: no-referrer\r\nConnection: close\r\n\r\n"
    )
}

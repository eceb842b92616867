//! The server over real sockets.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::thread;

use super::*;

/// Starts a server that offers this package's manifest, and returns its port.
fn started() -> u16 {
    let manifest = Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml");
    let server = Server::bind(vec![
        Offer::new("/", &manifest, "text/html; charset=utf-8"),
        Offer::new("/gone", "no-such-file", "text/plain"),
    ])
    .unwrap();
    assert!(server.address().ip().is_loopback());
    let port = server.address().port();
    thread::spawn(move || server.answer());
    port
}

/// Sends the text and returns all that comes back.
fn ask(port: u16, text: &str) -> String {
    let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port)).unwrap();
    stream.write_all(text.as_bytes()).unwrap();
    let mut answer = Vec::new();
    // The far side may reset the connection when it leaves a long request half read.
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8(answer).unwrap()
}

fn get(port: u16, method: &str, path: &str, host: &str) -> String {
    ask(port, &format!("{method} {path} HTTP/1.1\r\nHost: {host}\r\n\r\n"))
}

#[test]
fn a_file_of_the_list_is_served_whole() {
    let port = started();
    let answer = get(port, "GET", "/", &format!("127.0.0.1:{port}"));
    let (head, body) = answer.split_once("\r\n\r\n").unwrap();
    assert!(head.starts_with("HTTP/1.1 200 OK\r\n"), "{head}");
    assert!(head.contains("\r\nContent-Type: text/html; charset=utf-8\r\n"), "{head}");
    assert!(head.contains("\r\nX-Content-Type-Options: nosniff\r\n"), "{head}");
    assert!(head.contains("\r\nCache-Control: no-store\r\n"), "{head}");
    assert!(head.contains(&format!("\r\nContent-Length: {}\r\n", body.len())), "{head}");
    let manifest = Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml");
    assert_eq!(body, std::fs::read_to_string(manifest).unwrap());
}

#[test]
fn head_has_the_length_and_no_body() {
    let port = started();
    let answer = get(port, "HEAD", "/", &format!("localhost:{port}"));
    assert!(answer.starts_with("HTTP/1.1 200 OK\r\n") && answer.ends_with("\r\n\r\n"), "{answer}");
    assert!(!answer.contains("Content-Length: 0\r\n"), "{answer}");
}

#[test]
fn nothing_but_the_list_is_served() {
    let port = started();
    let host = format!("127.0.0.1:{port}");
    for path in ["/Cargo.toml", "/../Cargo.toml", "//", "/%2e%2e/Cargo.toml", "/gone"] {
        let answer = get(port, "GET", path, &host);
        assert!(answer.starts_with("HTTP/1.1 404 "), "{path}: {answer}");
    }
}

#[test]
fn other_methods_hosts_and_noise_are_refused() {
    let port = started();
    let host = format!("127.0.0.1:{port}");
    let post = get(port, "POST", "/", &host);
    assert!(
        post.starts_with("HTTP/1.1 405 ") && post.contains("\r\nAllow: GET, HEAD\r\n"),
        "{post}"
    );
    assert!(get(port, "GET", "/", "pretender.example").starts_with("HTTP/1.1 421 "));
    assert!(ask(port, "GET / HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 421 "));
    assert!(ask(port, "hello\r\n\r\n").starts_with("HTTP/1.1 400 "));
    // Still answering after all that.
    assert!(get(port, "GET", "/", &host).starts_with("HTTP/1.1 200 "));
}

//! Shows the page and finished sheets on this machine's loopback address, and nowhere else.
//!
//! A small HTTP/1.1 server: GET and HEAD, a fixed list of names, one thread a connection, each
//! request bounded in size and time. It prints nothing; the caller is told the address.
//!
//! References: RFC 9112 (HTTP/1.1 messages), RFC 9110 (semantics: methods, Host, Allow).

mod answer;
mod problem;
mod request;

use std::io::BufReader;
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

pub use problem::ServeProblem;

/// Connections at a time; one more is closed unanswered.
const CONNECTIONS: usize = 32;
/// How long a client may take to send its request or to take the answer.
const PATIENCE: Duration = Duration::from_secs(10);

/// One file that is offered under one exact name.
#[derive(Debug, Clone)]
pub struct Offer {
    name: String,
    file: PathBuf,
    kind: &'static str,
}

impl Offer {
    /// Offers `file` under `name` (which starts with `/`), as media type `kind`. The file is read
    /// anew for each request.
    pub fn new(name: impl Into<String>, file: impl AsRef<Path>, kind: &'static str) -> Self {
        Self { name: name.into(), file: file.as_ref().to_owned(), kind }
    }
}

/// A server that listens but does not answer yet.
#[derive(Debug)]
pub struct Server {
    listener: TcpListener,
    address: SocketAddr,
    offers: Arc<Vec<Offer>>,
}

/// Offers the files on a free port of 127.0.0.1, tells the address through `ready`, and answers
/// until the process ends.
///
/// # Errors
/// [`ServeProblem::Bind`] when no port could be had.
pub fn run(offers: Vec<Offer>, ready: impl FnOnce(SocketAddr)) -> Result<(), ServeProblem> {
    let server = Server::bind(offers)?;
    ready(server.address());
    server.answer();
    Ok(())
}

impl Server {
    /// Takes a free port of the loopback address.
    ///
    /// # Errors
    /// [`ServeProblem::Bind`] when no port could be had.
    pub fn bind(offers: Vec<Offer>) -> Result<Self, ServeProblem> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).map_err(ServeProblem::Bind)?;
        let address = listener.local_addr().map_err(ServeProblem::Bind)?;
        Ok(Self { listener, address, offers: Arc::new(offers) })
    }

    /// The address that it listens at.
    #[must_use]
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Answers until the process ends.
    pub fn answer(&self) {
        let open = Arc::new(AtomicUsize::new(0));
        for stream in self.listener.incoming().flatten() {
            if open.load(Ordering::SeqCst) >= CONNECTIONS {
                continue;
            }
            let place = Place::take(&open);
            let offers = Arc::clone(&self.offers);
            let port = self.address.port();
            // A client that hangs up, or that no thread can be had for, concerns nobody else.
            let _ = thread::Builder::new().spawn(move || {
                let _place = place;
                let _ = converse(&stream, port, &offers);
            });
        }
    }
}

/// One request, one answer, then the connection ends.
fn converse(stream: &TcpStream, port: u16, offers: &[Offer]) -> std::io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let request = request::read(&mut BufReader::new(stream), PATIENCE);
    answer::write(&mut &*stream, request, port, offers)
}

/// A connection's place among those at a time; given back when it is dropped.
struct Place(Arc<AtomicUsize>);

impl Place {
    fn take(open: &Arc<AtomicUsize>) -> Self {
        open.fetch_add(1, Ordering::SeqCst);
        Self(Arc::clone(open))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
    }
}

#[cfg(test)]
mod tests;

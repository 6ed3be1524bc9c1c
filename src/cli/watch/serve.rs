//! The page of a visit, served to browsers on this machine alone.
//!
//! Bound to the loopback address. A page of elsewhere whose name was made to point here still sends its own name as host: such a
//! request is refused. Only what the program holds in memory is served, never a file.

use std::io::Cursor;
use std::net::{Ipv4Addr, TcpListener};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use tiny_http::{Header, Method, Request, Response, StatusCode};

use crate::cli::complaint::Complaint;
use crate::cli::stop::Stop;
use crate::ingest;
use crate::report::live::{self, Live};
use crate::words::{Language, Words};

/// Requests answered at a time: a browser that reads slowly keeps no other waiting.
const WORKERS: usize = 4;

/// Sent with every answer. The page may load its own style, script and news, and nothing else.
const HEADERS: [(&str, &str); 6] = [
    (
        "Content-Security-Policy",
        "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Cache-Control", "no-store"),
    ("Allow", "GET, HEAD"),
];

/// What is shown now.
#[derive(Default)]
struct Shown {
    page: Vec<u8>,
    news: String,
    tag: String,
}

/// What the watching program and its workers share.
struct Shared {
    shown: Mutex<Shown>,
    looked: Mutex<Instant>,
    /// After so long without a look nobody may trust what is shown.
    patience: Duration,
}

/// A page that is being served.
pub struct Server {
    address: String,
    shared: Arc<Shared>,
}

impl Server {
    /// Starts to serve on the loopback address; port 0 is a free one.
    ///
    /// # Errors
    /// [`Stop`] if the port cannot be had.
    pub fn start(port: u16, every: Duration) -> Result<Self, Stop> {
        let refused = |error: &dyn std::fmt::Display| {
            let what = format!("cannot serve on 127.0.0.1, port {port}: {error}");
            Stop::from(Complaint::error(what).help("give another port, or none to have a free one"))
        };
        let listener =
            TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|error| refused(&error))?;
        let own = listener.local_addr().map_err(|error| refused(&error))?;
        let server =
            tiny_http::Server::from_listener(listener, None).map_err(|error| refused(&error))?;
        let shared = Arc::new(Shared {
            shown: Mutex::default(),
            looked: Mutex::new(Instant::now()),
            patience: Duration::from_secs(10).max(every * 4),
        });
        let server = Arc::new(server);
        for _ in 0..WORKERS {
            let (server, shared) = (Arc::clone(&server), Arc::clone(&shared));
            thread::spawn(move || {
                while let Ok(request) = server.recv() {
                    serve(request, &shared);
                }
            });
        }
        Ok(Self {
            address: format!("http://{own}/"),
            shared,
        })
    }

    /// Where the page is.
    #[must_use]
    pub fn address(&self) -> &str {
        &self.address
    }

    /// Shows how a visit stands now.
    pub fn show(&self, live: &Live) {
        let words = Words::of(Language::English);
        let news = live::fragment(words, live);
        let tag = format!("\"{}\"", ingest::sha256(news.as_bytes()));
        *lock(&self.shared.shown) = Shown {
            page: live::page(words, live),
            news,
            tag,
        };
        self.looked();
    }

    /// Notes that the program has looked just now.
    pub fn looked(&self) {
        *lock(&self.shared.looked) = Instant::now();
    }
}

fn lock<T>(shared: &Mutex<T>) -> MutexGuard<'_, T> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

/// What is answered.
struct Answer {
    status: u16,
    kind: &'static str,
    body: Vec<u8>,
    tag: Option<String>,
}

impl Answer {
    fn of(status: u16, kind: &'static str, body: impl Into<Vec<u8>>) -> Self {
        Self {
            status,
            kind,
            body: body.into(),
            tag: None,
        }
    }

    fn refusal(status: u16, words: &str) -> Self {
        Self::of(status, "text/plain; charset=utf-8", format!("{words}\n"))
    }
}

fn serve(request: Request, shared: &Shared) {
    let value = |name: &'static str| -> Vec<String> {
        let headers = request
            .headers()
            .iter()
            .filter(|header| header.field.equiv(name));
        headers.map(|header| header.value.to_string()).collect()
    };
    let tag = value("If-None-Match").pop();
    let answer = answer(
        request.method(),
        request.url(),
        &value("Host"),
        tag.as_deref(),
        shared,
    );
    let kind = ("Content-Type", answer.kind);
    let tag = answer.tag.as_deref().map(|tag| ("ETag", tag));
    let headers = HEADERS.into_iter().chain([kind]).chain(tag);
    let headers = headers.filter_map(|(name, value)| Header::from_bytes(name, value).ok());
    let length = answer.body.len();
    let body = Cursor::new(answer.body);
    // A browser that went away is no fault.
    let _ = request.respond(Response::new(
        StatusCode(answer.status),
        headers.collect(),
        body,
        Some(length),
        None,
    ));
}

fn answer(
    method: &Method,
    url: &str,
    hosts: &[String],
    tag: Option<&str>,
    shared: &Shared,
) -> Answer {
    if !matches!(hosts, [host] if is_this_machine(host)) {
        return Answer::refusal(
            403,
            "this page is for this machine alone, under the name localhost or 127.0.0.1",
        );
    }
    if !matches!(method, Method::Get | Method::Head) {
        return Answer::refusal(405, "only GET and HEAD");
    }
    let path = url.split_once('?').map_or(url, |(path, _)| path);
    match path {
        "/watch.css" => return Answer::of(200, "text/css; charset=utf-8", live::style()),
        "/watch.js" => return Answer::of(200, "text/javascript; charset=utf-8", live::PROGRAM),
        "/" | "/now" => {}
        _ => return Answer::refusal(404, "nothing is here"),
    }
    let shown = lock(&shared.shown);
    if shown.tag.is_empty() {
        return Answer::refusal(503, "nothing was looked at yet");
    }
    if lock(&shared.looked).elapsed() > shared.patience {
        return Answer::refusal(503, "the program has not looked for a while");
    }
    if path == "/" {
        return Answer::of(200, "text/html; charset=utf-8", shown.page.clone());
    }
    let same = tag == Some(shown.tag.as_str());
    let body = if same { "" } else { shown.news.as_str() };
    Answer {
        tag: Some(shown.tag.clone()),
        ..Answer::of(
            if same { 304 } else { 200 },
            "text/html; charset=utf-8",
            body,
        )
    }
}

/// Whether a request names this machine: a name of elsewhere that was made to point here is not.
fn is_this_machine(host: &str) -> bool {
    let name = match host.rsplit_once(':') {
        Some((name, port))
            if port.bytes().all(|byte| byte.is_ascii_digit()) && !port.is_empty() =>
        {
            name
        }
        _ => host,
    };
    name == "127.0.0.1" || name == "[::1]" || name.eq_ignore_ascii_case("localhost")
}

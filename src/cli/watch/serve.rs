//! The page of a visit, served to browsers on this machine alone.
//!
//! Bound to the loopback address. A page of elsewhere whose name was made to point here still sends its own name as host: such a
//! request is refused, and so is one that a page of elsewhere sends. Only what the program holds in memory is served, never a file;
//! no request has a body. Heads, times and connections have bounds, on a thread of their own: whatever is sent, the watch goes on.

use std::collections::VecDeque;
use std::convert::Infallible;
use std::net::{Ipv4Addr, TcpListener};
use std::pin::Pin;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll};
use std::thread;
use std::time::{Duration, Instant};

use hyper::body::{Body, Bytes, Frame, Incoming, SizeHint};
use hyper::header::{CONTENT_LENGTH, HOST, HeaderName, IF_NONE_MATCH, ORIGIN, TRANSFER_ENCODING};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Method, Request, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::runtime::{Builder, Runtime};
use tokio::task::AbortHandle;
use tokio::time::{sleep, timeout};

use crate::cli::complaint::Complaint;
use crate::cli::stop::Stop;
use crate::ingest;
use crate::report::live::{self, Live};
use crate::words::{Language, Words};

/// Connections at a time: one more ends the oldest. A browser that shows the page has six at most.
const CONNECTIONS: usize = 64;

/// The most bytes of the head of a request, and lines in it.
const HEAD: (usize, usize) = (16 << 10, 64);

/// In what time a head must have come, and in what time a whole connection ends: one request and its answer.
const HEAD_WITHIN: Duration = Duration::from_secs(5);
const ENDS_WITHIN: Duration = Duration::from_secs(15);

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

/// What the watching program and the server share.
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
        listener
            .set_nonblocking(true)
            .map_err(|error| refused(&error))?;
        let runtime = Builder::new_current_thread().enable_all().build();
        let runtime = runtime.map_err(|error| refused(&error))?;
        let shared = Arc::new(Shared {
            shown: Mutex::default(),
            looked: Mutex::new(Instant::now()),
            patience: Duration::from_secs(10).max(every * 4),
        });
        let of_the_server = Arc::clone(&shared);
        thread::spawn(move || accept(&runtime, listener, &of_the_server));
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
    status: StatusCode,
    kind: &'static str,
    body: Vec<u8>,
    tag: Option<String>,
}

impl Answer {
    fn of(status: StatusCode, kind: &'static str, body: impl Into<Vec<u8>>) -> Self {
        Self {
            status,
            kind,
            body: body.into(),
            tag: None,
        }
    }

    fn refusal(status: StatusCode, words: &str) -> Self {
        Self::of(status, "text/plain; charset=utf-8", format!("{words}\n"))
    }
}

/// Takes connections for as long as the program runs.
fn accept(runtime: &Runtime, listener: TcpListener, shared: &Arc<Shared>) {
    runtime.block_on(async {
        let Ok(listener) = tokio::net::TcpListener::from_std(listener) else {
            return;
        };
        let mut open: VecDeque<AbortHandle> = VecDeque::new();
        loop {
            let Ok((stream, _)) = listener.accept().await else {
                // No descriptor is left: one becomes free within the time of a connection.
                sleep(Duration::from_millis(100)).await;
                continue;
            };
            open.retain(|connection| !connection.is_finished());
            if open.len() >= CONNECTIONS
                && let Some(oldest) = open.pop_front()
            {
                oldest.abort();
            }
            let shared = Arc::clone(shared);
            let service = service_fn(move |request: Request<Incoming>| {
                let answer = serve(&request, &shared);
                async { Ok::<_, Infallible>(answer) }
            });
            let connection = http1::Builder::new()
                .timer(TokioTimer::new())
                .header_read_timeout(HEAD_WITHIN)
                .max_buf_size(HEAD.0)
                .max_headers(HEAD.1)
                .keep_alive(false)
                .title_case_headers(true)
                .serve_connection(TokioIo::new(stream), service);
            open.push_back(tokio::spawn(timeout(ENDS_WITHIN, connection)).abort_handle());
        }
    });
}

fn serve(request: &Request<Incoming>, shared: &Shared) -> Response<Whole> {
    let answer = answer(request, shared);
    let mut response = Response::new(Whole(Some(Bytes::from(answer.body))));
    *response.status_mut() = answer.status;
    let kind = ("Content-Type", answer.kind);
    let tag = answer.tag.as_deref().map(|tag| ("ETag", tag));
    for (name, value) in HEADERS.into_iter().chain([kind]).chain(tag) {
        if let (Ok(name), Ok(value)) = (name.parse::<HeaderName>(), value.parse()) {
            response.headers_mut().insert(name, value);
        }
    }
    response
}

/// A body that lies in memory.
struct Whole(Option<Bytes>);

impl Body for Whole {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        _: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        Poll::Ready(self.0.take().map(|bytes| Ok(Frame::data(bytes))))
    }

    fn is_end_stream(&self) -> bool {
        self.0.is_none()
    }

    fn size_hint(&self) -> SizeHint {
        SizeHint::with_exact(self.0.as_ref().map_or(0, |bytes| bytes.len() as u64))
    }
}

fn answer(request: &Request<Incoming>, shared: &Shared) -> Answer {
    let value = |name: HeaderName| {
        let mut values = request.headers().get_all(name).iter();
        let value = values.next().map(|value| value.to_str().unwrap_or("?"));
        (value, values.next().is_some())
    };
    let host = match value(HOST) {
        (Some(host), false) if is_this_machine(host) && request.uri().authority().is_none() => host,
        _ => {
            return Answer::refusal(
                StatusCode::FORBIDDEN,
                "this page is for this machine alone, under the name localhost or 127.0.0.1",
            );
        }
    };
    let own = format!("http://{host}");
    let origin = value(ORIGIN).0.is_none_or(|origin| origin == own);
    let site = value(HeaderName::from_static("sec-fetch-site")).0;
    if !origin || !site.is_none_or(|site| matches!(site, "same-origin" | "none")) {
        return Answer::refusal(StatusCode::FORBIDDEN, "this page answers itself alone");
    }
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        return Answer::refusal(StatusCode::METHOD_NOT_ALLOWED, "only GET and HEAD");
    }
    let length = value(CONTENT_LENGTH).0.is_none_or(|length| length == "0");
    if !length || value(TRANSFER_ENCODING).0.is_some() {
        return Answer::refusal(StatusCode::PAYLOAD_TOO_LARGE, "no body is expected");
    }
    let path = request.uri().path();
    match path {
        "/watch.css" => {
            return Answer::of(StatusCode::OK, "text/css; charset=utf-8", live::style());
        }
        "/watch.js" => {
            return Answer::of(
                StatusCode::OK,
                "text/javascript; charset=utf-8",
                live::PROGRAM,
            );
        }
        "/" | "/now" => {}
        _ => return Answer::refusal(StatusCode::NOT_FOUND, "nothing is here"),
    }
    shown(path, value(IF_NONE_MATCH).0, shared)
}

/// The page, or what is new on it.
fn shown(path: &str, tag: Option<&str>, shared: &Shared) -> Answer {
    let late = |words| Answer::refusal(StatusCode::SERVICE_UNAVAILABLE, words);
    let shown = lock(&shared.shown);
    if shown.tag.is_empty() {
        return late("nothing read yet");
    }
    if lock(&shared.looked).elapsed() > shared.patience {
        return late("the program has not looked for a while");
    }
    const HTML: &str = "text/html; charset=utf-8";
    if path == "/" {
        return Answer::of(StatusCode::OK, HTML, shown.page.clone());
    }
    let answer = if tag == Some(shown.tag.as_str()) {
        Answer::of(StatusCode::NOT_MODIFIED, HTML, "")
    } else {
        Answer::of(StatusCode::OK, HTML, shown.news.as_str())
    };
    Answer {
        tag: Some(shown.tag.clone()),
        ..answer
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

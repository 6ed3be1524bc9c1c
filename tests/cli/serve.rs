//! The page of `relent watch --serve`: no request, from whatever origin, ends or blocks the watch.

use std::fs;
use std::io::{ErrorKind, Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::watch::{Watching, empty, get, log, port};

/// In what time an honest request is answered whatever else is going on.
const SOON: Duration = Duration::from_secs(4);

fn open(port: &str, sent: &str) -> TcpStream {
    let mut stream = TcpStream::connect(format!("127.0.0.1:{port}")).unwrap();
    stream
        .set_read_timeout(Some(Duration::from_secs(30)))
        .unwrap();
    // The server may have closed it already.
    let _ = stream.write_all(sent.as_bytes());
    stream
}

/// The status of the answer; `None` where the connection was closed without one.
fn status(stream: &mut TcpStream) -> Option<u32> {
    let mut answer = Vec::new();
    match stream.read_to_end(&mut answer) {
        Ok(_) => {}
        Err(error) => assert_eq!(error.kind(), ErrorKind::ConnectionReset, "{error}"),
    }
    let text = String::from_utf8_lossy(&answer).into_owned();
    text.split(' ').nth(1)?.parse().ok()
}

fn assert_answers(port: &str, when: &str) {
    let start = Instant::now();
    assert_eq!(get(port, "/", "localhost", "").0, 200, "{when}");
    assert!(start.elapsed() < SOON, "{when}: {:?}", start.elapsed());
}

#[test]
fn whatever_is_sent_the_page_answers_and_the_watch_goes_on() {
    let (_home, gate, logs) = empty("visit-2");
    let watching = Watching::start(&gate, &["--serve"]);
    let port = port(&watching.line("page: "));
    watching.line("Next: ");

    // A body of 60 GB that is declared, and one that is declared and withheld.
    for (method, wanted) in [("POST", 405), ("GET", 413), ("PUT", 405), ("OPTIONS", 405)] {
        for length in ["64424509440", "10"] {
            let head = format!(
                "{method} / HTTP/1.1\r\nHost: localhost\r\nContent-Length: {length}\r\n\r\n"
            );
            let told = status(&mut open(&port, &head));
            assert_eq!(told, Some(wanted), "{method} {length}");
        }
    }
    assert_answers(&port, "after declared bodies");
    let withheld = "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 10\r\n\r\n";
    let held: Vec<TcpStream> = (0..4).map(|_| open(&port, withheld)).collect();
    assert_answers(&port, "with four withheld bodies");
    drop(held);
    let chunked = "GET / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\nffffffffffffffff\r\n";
    assert_ne!(status(&mut open(&port, chunked)), Some(200));

    // Heads that never end: more of them than there may be connections.
    let mut slow: Vec<TcpStream> = (0..200)
        .map(|_| open(&port, "GET / HTTP/1.1\r\nHo"))
        .collect();
    assert_answers(&port, "with slow heads");
    let start = Instant::now();
    assert!(
        slow.iter_mut()
            .rev()
            .take(8)
            .all(|stream| status(stream) != Some(200))
    );
    assert!(
        start.elapsed() < Duration::from_secs(20),
        "{:?}",
        start.elapsed()
    );

    // Connections on which nothing is sent.
    let idle: Vec<TcpStream> = (0..400).map(|_| open(&port, "")).collect();
    assert_answers(&port, "with idle connections");
    drop(idle);

    // A head without end, and one of many lines.
    let long = format!(
        "GET /{} HTTP/1.1\r\nHost: localhost\r\n\r\n",
        "x".repeat(1 << 20)
    );
    assert!(matches!(
        status(&mut open(&port, &long)),
        None | Some(414 | 431)
    ));
    let lines = "x: y\r\n".repeat(2000);
    let many = format!("GET / HTTP/1.1\r\nHost: localhost\r\n{lines}\r\n");
    assert!(matches!(status(&mut open(&port, &many)), None | Some(431)));
    for odd in [
        "\0\0\0\0\r\n\r\n",
        "GET\r\n\r\n",
        "GET / HTTP/9.9\r\n\r\n",
        "\r\n\r\n\r\n",
        "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    ] {
        assert_ne!(status(&mut open(&port, odd)), Some(200), "{odd:?}");
    }
    assert_answers(&port, "after odd heads");

    // The watch has seen nothing of it.
    let stem = "closing-50-50-1";
    fs::copy(
        log(&logs, stem),
        gate.join("logs").join(format!("{stem}.csv")),
    )
    .unwrap();
    watching.line(&format!("{stem}.csv"));
    assert_answers(&port, "after all");
}

#[test]
fn a_page_of_another_origin_is_refused_whatever_host_it_names() {
    let (_home, gate, _) = empty("visit-2");
    let watching = Watching::start(&gate, &["--serve"]);
    let port = port(&watching.line("page: "));
    watching.line("Next: ");
    let host = format!("127.0.0.1:{port}");
    for (header, wanted) in [
        (format!("Origin: http://{host}\r\n"), 200),
        ("Sec-Fetch-Site: same-origin\r\n".to_owned(), 200),
        ("Sec-Fetch-Site: none\r\n".to_owned(), 200),
        ("Origin: http://example.org\r\n".to_owned(), 403),
        ("Origin: http://127.0.0.1:1\r\n".to_owned(), 403),
        ("Origin: null\r\n".to_owned(), 403),
        ("Sec-Fetch-Site: cross-site\r\n".to_owned(), 403),
        ("Sec-Fetch-Site: same-site\r\n".to_owned(), 403),
    ] {
        for path in ["/", "/now", "/watch.js"] {
            let (status, _, body) = get(&port, path, &host, &header);
            assert_eq!(status, wanted, "{header}{path}");
            assert_eq!(
                body.contains("Quillmere"),
                wanted == 200 && path == "/",
                "{header}{path}"
            );
        }
    }
    assert_eq!(
        get(&port, "http://example.org/", "localhost", "").0,
        403,
        "another name in the line of the request"
    );
}

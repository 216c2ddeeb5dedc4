//! The door over the wire, with measures that are short enough to wait for.

use crate::access::{Door, Folder, Measure, Opening};
use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::Request;
use axum::routing::{get, post};
use http_body_util::BodyExt;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tokio::sync::oneshot;

struct Served {
    _folder: tempfile::TempDir,
    folder: std::path::PathBuf,
    at: std::net::SocketAddr,
    key: String,
    stop: Option<oneshot::Sender<()>>,
    done: tokio::task::JoinHandle<()>,
    told: Arc<Mutex<Vec<String>>>,
}

async fn served() -> Served {
    let folder = tempfile::tempdir().unwrap();
    let told = Arc::new(Mutex::new(Vec::new()));
    let telling = told.clone();
    let measure = |path, bytes, within: Option<u64>, pause| Measure {
        path,
        bytes,
        within: within.map(Duration::from_millis),
        pause: Duration::from_millis(pause),
    };
    let records = folder.path().join("workshop.records");
    let door = Door::open(Opening {
        records: records.clone(),
        at: "127.0.0.1:0".parse().unwrap(),
        lan: false,
        own: crate::device::Device::default(),
        measures: vec![
            measure("/quick", 1000, Some(600), 250),
            measure("/streams/{job}", usize::MAX, None, 250),
        ],
        tell: Arc::new(move |line| telling.lock().unwrap().push(line.to_owned())),
    })
    .unwrap();
    let at = door.at();
    let key = door.own_address().unwrap().split_once("key=").unwrap().1.to_owned();
    let taken = |body: Bytes| async move { format!("taken {}", body.len()) };
    let counted = |request: Request| async move {
        let mut body = request.into_body();
        let mut pieces = 0;
        while let Some(Ok(_)) = body.frame().await {
            pieces += 1;
        }
        format!("pieces {pieces}")
    };
    // It says something each 50 ms, for as long as it is listened to.
    let endless = || async {
        let (mut into, from) = tokio::io::duplex(64);
        tokio::spawn(async move {
            while into.write_all(b".").await.is_ok() {
                tokio::time::sleep(Duration::from_millis(50)).await
            }
        });
        Body::new(http_body_util::StreamBody::new(Pieces(from)))
    };
    let router = Router::new()
        .route("/", get(|| async { "the list" }).post(taken))
        .route("/quick", post(taken))
        .route("/streams/{job}", post(counted))
        .route("/endless", get(endless));
    let (stop, stopped) = oneshot::channel();
    let done = tokio::spawn(async move {
        door.serve(router, async { drop(stopped.await) }).await.unwrap();
    });
    Served { folder: records, _folder: folder, at, key, stop: Some(stop), done, told }
}

/// A stream of pieces out of a pipe.
struct Pieces(tokio::io::DuplexStream);

impl futures_core::Stream for Pieces {
    type Item = Result<hyper::body::Frame<Bytes>, std::io::Error>;

    fn poll_next(
        mut self: std::pin::Pin<&mut Self>,
        context: &mut std::task::Context<'_>,
    ) -> std::task::Poll<Option<Self::Item>> {
        use tokio::io::AsyncRead;
        let mut room = [0; 64];
        let mut buffer = tokio::io::ReadBuf::new(&mut room);
        match std::pin::Pin::new(&mut self.0).poll_read(context, &mut buffer) {
            std::task::Poll::Pending => std::task::Poll::Pending,
            std::task::Poll::Ready(Err(error)) => std::task::Poll::Ready(Some(Err(error))),
            std::task::Poll::Ready(Ok(())) => {
                let piece = Bytes::copy_from_slice(buffer.filled());
                std::task::Poll::Ready((!piece.is_empty()).then(|| Ok(hyper::body::Frame::data(piece))))
            }
        }
    }
}

impl Served {
    async fn asked(&self, request: &str) -> String {
        let mut stream = TcpStream::connect(self.at).await.unwrap();
        stream.write_all(request.as_bytes()).await.unwrap();
        read(&mut stream).await
    }

    async fn cookie(&self) -> String {
        let answer = self.asked(&format!("GET /enter?key={} {}", self.key, self.head(""))).await;
        assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
        let line = answer.lines().find_map(|line| line.strip_prefix("set-cookie: ")).unwrap();
        for part in ["HttpOnly", "SameSite=Strict", "Path=/"] {
            assert!(line.contains(part), "{line}");
        }
        line.split(';').next().unwrap().to_owned()
    }

    fn head(&self, more: &str) -> String {
        format!("HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n{more}\r\n", self.at)
    }

    fn posting(&self, path: &str, cookie: &str, length: usize) -> String {
        let more = format!("Cookie: {cookie}\r\nOrigin: http://{}\r\nContent-Length: {length}\r\n", self.at);
        format!("POST {path} {}", self.head(&more))
    }
}

async fn read(stream: &mut TcpStream) -> String {
    let mut all = Vec::new();
    let _ = tokio::time::timeout(Duration::from_secs(10), stream.read_to_end(&mut all)).await.unwrap();
    String::from_utf8_lossy(&all).into_owned()
}

fn status(answer: &str) -> u16 {
    answer.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or_default()
}

#[tokio::test]
async fn only_who_has_the_printed_address_comes_in() {
    let served = served().await;
    for path in ["/", "/quick", "/nothing", "/pair", "/enter", "/enter?key=", "/enter?key=0000"] {
        let answer = served.asked(&format!("GET {path} {}", served.head(""))).await;
        assert_eq!(status(&answer), 401, "{path}");
        assert!(answer.contains("content-security-policy: default-src 'none'"), "{answer}");
    }
    let cookie = served.cookie().await;
    let more = format!("Cookie: other=1; {cookie}\r\n");
    assert!(served.asked(&format!("GET / {}", served.head(&more))).await.ends_with("the list"));
    assert_eq!(status(&served.asked(&format!("GET /nothing {}", served.head(&more))).await), 404);
    let token = cookie.split_once('=').unwrap().1;
    let bearer = format!("Authorization: Bearer {token}\r\n");
    assert!(served.asked(&format!("GET / {}", served.head(&bearer))).await.ends_with("the list"));
    let wrong =
        format!("Authorization: Bearer {}\r\n", token.replace(|letter: char| letter.is_ascii_digit(), "a"));
    assert_eq!(status(&served.asked(&format!("GET / {}", served.head(&wrong))).await), 401);
}

#[tokio::test]
async fn a_body_is_measured() {
    let served = served().await;
    let cookie = served.cookie().await;
    let fits = "x".repeat(1000);
    let answer = served.asked(&(served.posting("/quick", &cookie, 1000) + &fits)).await;
    assert!(answer.ends_with("taken 1000"), "{answer}");
    let answer = served.asked(&(served.posting("/quick", &cookie, 1001) + &fits + "x")).await;
    assert_eq!(status(&answer), 413, "{answer}");
    // Without saying how much: it is counted as it comes.
    let more = format!("Cookie: {cookie}\r\nOrigin: http://{}\r\nTransfer-Encoding: chunked\r\n", served.at);
    let body = format!("3e9\r\n{fits}x\r\n0\r\n\r\n");
    let answer = served.asked(&format!("POST /quick {}{body}", served.head(&more))).await;
    assert_eq!(status(&answer), 413, "{answer}");
    let usual = "x".repeat(65_536);
    assert!(served.asked(&(served.posting("/", &cookie, 65_536) + &usual)).await.ends_with("taken 65536"));
    assert_eq!(status(&served.asked(&served.posting("/", &cookie, 65_537)).await), 413);
}

#[tokio::test]
async fn a_body_that_comes_too_slowly_is_not_waited_for() {
    let served = served().await;
    let cookie = served.cookie().await;
    // It stops within a body.
    let begun = Instant::now();
    let answer = served.asked(&(served.posting("/quick", &cookie, 1000) + "x")).await;
    assert_eq!(status(&answer), 408, "{answer}");
    assert!(begun.elapsed() < Duration::from_millis(2000));
    // It never stops for long, but is not done in time.
    let mut stream = TcpStream::connect(served.at).await.unwrap();
    stream.write_all(served.posting("/quick", &cookie, 1000).as_bytes()).await.unwrap();
    let begun = Instant::now();
    for _ in 0..20 {
        tokio::time::sleep(Duration::from_millis(100)).await;
        if stream.write_all(b"x").await.is_err() {
            break;
        }
    }
    assert_eq!(status(&read(&mut stream).await), 408);
    assert!(begun.elapsed() < Duration::from_secs(5));
    // One that is meant to go on does, as long as it makes no pause.
    let mut stream = TcpStream::connect(served.at).await.unwrap();
    let more = format!("Cookie: {cookie}\r\nOrigin: http://{}\r\nTransfer-Encoding: chunked\r\n", served.at);
    stream.write_all(format!("POST /streams/3 {}", served.head(&more)).as_bytes()).await.unwrap();
    for _ in 0..12 {
        stream.write_all(b"1\r\nx\r\n").await.unwrap();
        tokio::time::sleep(Duration::from_millis(80)).await;
    }
    stream.write_all(b"0\r\n\r\n").await.unwrap();
    assert!(read(&mut stream).await.ends_with("pieces 12"));
}

#[tokio::test]
async fn an_open_answer_ends_when_the_device_is_shut_out() {
    let served = served().await;
    let cookie = served.cookie().await;
    let mut stream = TcpStream::connect(served.at).await.unwrap();
    let more = format!("Cookie: {cookie}\r\n");
    stream.write_all(format!("GET /endless {}", served.head(&more)).as_bytes()).await.unwrap();
    let mut some = [0; 64];
    assert!(stream.read(&mut some).await.unwrap() > 0);
    // As `dwell bay devices revoke` does it, with the database opened anew.
    let now = time::OffsetDateTime::now_utc();
    let mut devices = crate::access::Devices::open(&Folder::beside(&served.folder).unwrap()).unwrap();
    assert_eq!(devices.shut_out("this machine", now).unwrap().len(), 1);
    let begun = Instant::now();
    read(&mut stream).await;
    assert!(begun.elapsed() < Duration::from_secs(2));
    assert_eq!(status(&served.asked(&format!("GET / {}", served.head(&more))).await), 401);
    assert_eq!(*served.told.lock().unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn the_server_ends_within_three_seconds_with_an_answer_open() {
    let mut served = served().await;
    let cookie = served.cookie().await;
    let mut stream = TcpStream::connect(served.at).await.unwrap();
    stream
        .write_all(format!("GET /endless {}", served.head(&format!("Cookie: {cookie}\r\n"))).as_bytes())
        .await
        .unwrap();
    let mut idle = TcpStream::connect(served.at).await.unwrap();
    idle.write_all(b"GET / HTTP/1.1\r\n").await.unwrap();
    let mut some = [0; 64];
    assert!(stream.read(&mut some).await.unwrap() > 0);
    let begun = Instant::now();
    served.stop.take().unwrap().send(()).unwrap();
    served.done.await.unwrap();
    assert!(begun.elapsed() < Duration::from_secs(3), "{:?}", begun.elapsed());
}

#[tokio::test]
async fn whoever_asks_too_often_waits() {
    let served = served().await;
    let mut stream = TcpStream::connect(served.at).await.unwrap();
    let ask = format!("GET / HTTP/1.1\r\nHost: {}\r\n\r\n", served.at);
    let last = format!("GET / {}", served.head(""));
    stream.write_all((ask.repeat(60) + &last).as_bytes()).await.unwrap();
    let answers = read(&mut stream).await;
    let (refused, waits) = (answers.matches("HTTP/1.1 401").count(), answers.matches("HTTP/1.1 429").count());
    assert!((40..=45).contains(&refused) && refused + waits == 61, "{refused} {waits}");
    assert!(answers.contains("retry-after: 1"));
}

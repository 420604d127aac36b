//! Response times of the care card with eight clients at once, each on one connection that it keeps open.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use support::running::Server;
use support::sample::WholeJob;

use super::row;

const BROWSERS: usize = 8;
const EACH: usize = 1_000;

/// Requests the card many times, and prints the median and the 99th percentile.
pub(crate) fn measure(server: &Server, job: &WholeJob) {
    let address = server.url.strip_prefix("http://").unwrap().to_owned();
    let path = format!("/card/{}", job.secret);
    let mut times: Vec<Duration> = std::thread::scope(|scope| {
        let browsers: Vec<_> = (0..BROWSERS)
            .map(|_| scope.spawn(|| browse(&address, &path)))
            .collect();
        browsers
            .into_iter()
            .flat_map(|browser| browser.join().unwrap())
            .collect()
    });
    times.sort();
    row("the care card, 8 connections, p50", times[times.len() / 2]);
    row("the care card, 8 connections, p99", times[times.len() * 99 / 100]);
}

fn browse(address: &str, path: &str) -> Vec<Duration> {
    let mut connection = TcpStream::connect(address).unwrap();
    connection.set_nodelay(true).unwrap();
    let mut answers = BufReader::new(connection.try_clone().unwrap());
    let request = format!("GET {path} HTTP/1.1\r\nhost: {address}\r\n\r\n");
    (0..EACH)
        .map(|_| {
            let began = Instant::now();
            connection.write_all(request.as_bytes()).unwrap();
            read_answer(&mut answers);
            began.elapsed()
        })
        .collect()
}

/// Reads one response to its end, by its `Content-Length`.
fn read_answer(answers: &mut BufReader<TcpStream>) {
    let mut line = String::new();
    answers.read_line(&mut line).unwrap();
    assert!(line.starts_with("HTTP/1.1 200"), "{line}");
    let mut length = 0;
    loop {
        line.clear();
        answers.read_line(&mut line).unwrap();
        match line.trim_end().split_once(": ") {
            Some(("content-length", value)) => length = value.parse().unwrap(),
            Some(_) => {}
            None => break,
        }
    }
    std::io::copy(&mut Read::take(answers, length), &mut std::io::sink()).unwrap();
}

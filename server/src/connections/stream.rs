//! The bytes of one connection: counted as progress, and ended when the connection has to be closed.

use std::io::{self, IoSlice};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, ready};

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio_util::sync::WaitForCancellationFutureOwned;

use super::open::Connection;

/// So many bytes count as progress. A client that sends or reads only a few now and then does not keep its place by
/// that.
pub const PROGRESS: usize = 1024;

/// A socket that can be cut off.
pub struct Watched {
    socket: TcpStream,
    cut: Pin<Box<WaitForCancellationFutureOwned>>,
    /// Bytes sent and received since the last progress.
    moved: usize,
    // The last field: the socket is closed before the connection's place is given up.
    connection: Arc<Connection>,
}

impl Watched {
    pub(super) fn new(socket: TcpStream, connection: Arc<Connection>) -> Self {
        Self {
            socket,
            cut: Box::pin(connection.cut().cancelled_owned()),
            moved: 0,
            connection,
        }
    }

    /// Fails once the connection has to be closed; until then it registers the task to be woken when that happens.
    fn check(&mut self, context: &mut Context<'_>) -> io::Result<()> {
        match self.cut.as_mut().poll(context) {
            Poll::Ready(()) => Err(io::ErrorKind::ConnectionAborted.into()),
            Poll::Pending => Ok(()),
        }
    }

    fn moved(&mut self, bytes: usize) {
        self.moved += bytes;
        if self.moved >= PROGRESS {
            self.moved = 0;
            self.connection.use_it();
        }
    }
}

impl AsyncRead for Watched {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        self.check(context)?;
        let before = buffer.filled().len();
        let read = Pin::new(&mut self.socket).poll_read(context, buffer);
        self.connection.nothing_came(read.is_pending());
        ready!(read)?;
        self.moved(buffer.filled().len() - before);
        Poll::Ready(Ok(()))
    }
}

impl AsyncWrite for Watched {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        self.check(context)?;
        let written = Pin::new(&mut self.socket).poll_write(context, bytes);
        self.connection.nothing_taken(written.is_pending());
        let written = ready!(written)?;
        self.moved(written);
        Poll::Ready(Ok(written))
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        self.check(context)?;
        let written = Pin::new(&mut self.socket).poll_write_vectored(context, bytes);
        self.connection.nothing_taken(written.is_pending());
        let written = ready!(written)?;
        self.moved(written);
        Poll::Ready(Ok(written))
    }

    fn is_write_vectored(&self) -> bool {
        self.socket.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.socket).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.socket).poll_shutdown(context)
    }
}

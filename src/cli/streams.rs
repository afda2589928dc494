//! The one way to standard output and standard error.
//!
//! A reader that went away (`assize fmt … | head -1`) wants no more lines: that is no failure, and
//! the exit code stays that of the work. A stream that takes no more for any other
//! reason, such as a full disk, has lost what somebody waits for: that is told once, as
//! far as anything can be told, and the exit code is at least 1.

use super::exit::Exit;
use crate::desk::{unwritable, why};
use crate::diag::render;
use crate::source::{Sources, one_line, visible};
use std::io::{self, ErrorKind, IsTerminal, Write};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether something was lost that a stream should have taken. The streams belong to the
/// whole process, and so does this.
static LOST: AtomicBool = AtomicBool::new(false);

/// Writes to standard output; the exit code says whether all of it is there.
pub fn output(text: impl AsRef<[u8]>) -> Exit {
    let Err(error) = whole(&mut io::stdout().lock(), text.as_ref()) else { return Exit::Clean };
    if !LOST.swap(true, Ordering::Relaxed) {
        let finding = unwritable::stream("standard output", &why(&error));
        error_text(render(&finding, &Sources::default(), colour(&io::stderr())));
    }
    Exit::Findings
}

/// Writes a sentence of ours to standard output, with what a terminal would obey in it made
/// visible.
pub fn sentence(text: &str) -> Exit {
    output(&*visible(text))
}

/// A path for a person, in one line whatever its name holds.
pub fn path(path: &Path) -> String {
    one_line(&path.display().to_string()).into_owned()
}

/// Writes to standard error.
pub fn error_text(text: impl AsRef<[u8]>) {
    if whole(&mut io::stderr().lock(), text.as_ref()).is_err() {
        LOST.store(true, Ordering::Relaxed);
    }
}

/// What the streams did to the exit code of the run.
pub fn outcome() -> Exit {
    if LOST.load(Ordering::Relaxed) { Exit::Findings } else { Exit::Clean }
}

/// Whether to use colour on a stream.
pub fn colour(stream: &impl IsTerminal) -> bool {
    stream.is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
}

/// Writes all of a text at once; a reader that went away is no error.
fn whole(stream: &mut impl Write, text: &[u8]) -> io::Result<()> {
    match stream.write_all(text).and_then(|()| stream.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        done => done,
    }
}

#[cfg(test)]
mod tests {
    use super::whole;
    use std::io::{self, ErrorKind, Write};

    /// A stream that fails with one kind of error, at writing or at the end only.
    struct Failing(ErrorKind, bool);

    impl Write for Failing {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            if self.1 { Ok(bytes.len()) } else { Err(self.0.into()) }
        }

        fn flush(&mut self) -> io::Result<()> {
            Err(self.0.into())
        }
    }

    #[test]
    fn only_a_reader_that_went_away_is_no_error() {
        for at_the_end in [false, true] {
            assert!(whole(&mut Failing(ErrorKind::BrokenPipe, at_the_end), b"bread").is_ok());
            for kind in [ErrorKind::StorageFull, ErrorKind::PermissionDenied, ErrorKind::Other] {
                let told = whole(&mut Failing(kind, at_the_end), b"bread");
                assert_eq!(told.map_err(|error| error.kind()), Err(kind));
            }
        }
    }
}

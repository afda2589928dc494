//! What is done when our own code fails inside: the place is kept, and one formula that
//! fails silences none of the others.

use super::crash::Crash;
use super::findings::bug_of_ours;
use crate::diag::Finding;
use crate::source::Span;
use std::backtrace::{Backtrace, BacktraceStatus};
use std::cell::{Cell, RefCell};
use std::panic::{self, AssertUnwindSafe, PanicHookInfo};
use std::sync::{Mutex, PoisonError};

thread_local! {
    /// Whether this thread works behind a guard.
    static IS_GUARDED: Cell<bool> = const { Cell::new(false) };
    /// The crash behind this thread's guard.
    static GUARDED: RefCell<Option<Crash>> = const { RefCell::new(None) };
}

/// The first crash that no guard was around, on any thread: those that follow are only
/// other threads being told.
static FIRST: Mutex<Option<Crash>> = Mutex::new(None);

/// Keeps the place of every crash from now on, in place of printing it at once.
pub fn keep_places() {
    panic::set_hook(Box::new(keep));
}

fn keep(info: &PanicHookInfo) {
    let backtrace = Backtrace::capture();
    let is_captured = backtrace.status() == BacktraceStatus::Captured;
    let crash = Crash {
        place: info
            .location()
            .map_or_else(String::new, |at| format!("{}:{}", at.file(), at.line())),
        what: words(info.payload()),
        backtrace: is_captured.then(|| backtrace.to_string()),
    };
    if IS_GUARDED.get() {
        GUARDED.set(Some(crash));
    } else {
        FIRST.lock().unwrap_or_else(PoisonError::into_inner).get_or_insert(crash);
    }
}

/// What a panic carries.
fn words(payload: &(dyn std::any::Any + Send)) -> String {
    let text = payload.downcast_ref::<&str>().map(|text| (*text).to_owned());
    let text = text.or_else(|| payload.downcast_ref::<String>().cloned());
    text.unwrap_or_else(|| "it did not say why".to_owned())
}

/// Does the work of a whole run.
///
/// # Errors
/// The first crash of any of its threads.
pub fn run<T>(work: impl FnOnce() -> T) -> Result<T, Crash> {
    panic::catch_unwind(AssertUnwindSafe(work)).map_err(|payload| {
        let first = FIRST.lock().unwrap_or_else(PoisonError::into_inner).take();
        first.unwrap_or_else(|| unplaced(&*payload))
    })
}

/// Does one piece of the work on this thread. What it has changed when it crashes is left
/// as it is, so it must keep what it makes to itself.
///
/// # Errors
/// The crash.
pub fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, Crash> {
    let was_guarded = IS_GUARDED.replace(true);
    let done = panic::catch_unwind(AssertUnwindSafe(work));
    IS_GUARDED.set(was_guarded);
    done.map_err(|payload| GUARDED.take().unwrap_or_else(|| unplaced(&*payload)))
}

fn unplaced(payload: &(dyn std::any::Any + Send)) -> Crash {
    Crash { place: String::new(), what: words(payload), backtrace: None }
}

/// Does the work on what is called `name` and stands at `span`.
///
/// # Errors
/// A finding that asks for the file.
pub fn guarded_at<T>(span: Span, name: &str, work: impl FnOnce() -> T) -> Result<T, Box<Finding>> {
    guarded(work).map_err(|crash| Box::new(bug_of_ours::finding(span, name, &crash)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crash_behind_a_guard_says_what_and_nested_guards_are_apart() {
        let done = guarded(|| {
            let inner = guarded(|| std::panic::panic_any("the inner one"));
            assert_eq!(inner.map_err(|crash| crash.what), Err("the inner one".to_owned()));
            assert!(IS_GUARDED.get(), "the outer guard still stands");
            7
        });
        assert_eq!(done, Ok(7));
        assert!(!IS_GUARDED.get());
        let done: Result<(), Crash> = guarded(|| std::panic::panic_any(format!("{}", 6 * 7)));
        assert_eq!(done.map_err(|crash| crash.what), Err("42".to_owned()));
        let done: Result<(), Crash> = guarded(|| std::panic::panic_any(42_u8));
        assert_eq!(done.map_err(|crash| crash.what), Err("it did not say why".to_owned()));
    }

    /// One test for all that replaces the hook, which the whole process shares.
    #[test]
    fn the_place_of_a_crash_is_kept_on_every_thread() {
        let before = panic::take_hook();
        keep_places();
        let zero = std::hint::black_box(0_u32);
        let here = guarded(|| 1 / zero);
        let line = line!() - 1;
        let elsewhere = run(|| {
            std::thread::scope(|scope| {
                scope.spawn(|| [1_u8][std::hint::black_box(3)]);
            });
        });
        let elsewhere_line = line!() - 3;
        panic::set_hook(before);
        let here = here.expect_err("it crashed");
        assert_eq!(here.place, format!("{}:{line}", file!()));
        assert!(here.what.contains("divide by zero"), "{here:?}");
        let elsewhere = elsewhere.expect_err("it crashed");
        assert_eq!(elsewhere.place, format!("{}:{elsewhere_line}", file!()));
        assert!(elsewhere.what.contains("out of bounds"), "{elsewhere:?}");
    }
}

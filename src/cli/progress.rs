//! How far long work has come, on standard error where that is a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_millis(500);

/// A count of pieces of work, shown once it takes long.
pub struct Progress {
    begun: Instant,
    pieces: usize,
    on_terminal: bool,
    bar: OnceLock<ProgressBar>,
    done: std::sync::atomic::AtomicUsize,
}

impl Progress {
    /// A bar for so many pieces of work, drawn where standard error is a terminal.
    pub fn new(pieces: usize) -> Self {
        Self {
            begun: Instant::now(),
            pieces,
            on_terminal: std::io::stderr().is_terminal(),
            bar: OnceLock::new(),
            done: std::sync::atomic::AtomicUsize::new(0),
        }
    }

    /// A piece is done.
    pub fn one_more(&self) {
        let done = self.done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1;
        if self.on_terminal && (self.bar.get().is_some() || self.begun.elapsed() > PATIENCE) {
            self.bar.get_or_init(|| self.drawn()).set_position(done as u64);
        }
    }

    fn drawn(&self) -> ProgressBar {
        let bar = ProgressBar::with_draw_target(
            Some(self.pieces as u64),
            ProgressDrawTarget::stderr_with_hz(10),
        );
        // The template is our own and sound; were it not, the usual one would do.
        let style = ProgressStyle::with_template("{wide_bar} {pos} of {len}")
            .unwrap_or_else(|_| ProgressStyle::default_bar());
        bar.set_style(style);
        bar
    }

    /// From now on there is one long piece of work, of which nothing can be told but that it
    /// goes on; `pieces` says how large it is.
    pub fn one_long(&self, pieces: usize) {
        /// So many prints are set in about the time that nobody waits for.
        const QUICK: usize = 20;
        if !self.on_terminal || pieces <= QUICK {
            return;
        }
        let bar = self.bar.get_or_init(|| self.drawn());
        bar.set_style(ProgressStyle::default_spinner());
        bar.enable_steady_tick(Duration::from_millis(120));
    }

    /// Takes the bar away.
    pub fn done(&self) {
        if let Some(bar) = self.bar.get() {
            bar.finish_and_clear();
        }
    }
}

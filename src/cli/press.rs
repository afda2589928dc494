//! Setting pages where a house's own templates can take nothing else down.
//!
//! Our own templates are set here. A house's own may loop, fill the memory or exhaust the
//! stack, and so may a damaged font; they are set in child processes of the same binary,
//! one for each core that sets pages, each with a limit of memory and a limit of time for a
//! print. A child that is stopped is started again for the next print.
//!
//! Parent and child speak in frames: the length of what follows, then that many bytes. A
//! child first gets what the house brings, then one job after the other, and answers each
//! with whether it was done, and the files or the reason.

use super::exit::Exit;
use crate::diag::Finding;
use crate::print::assets::PrintAssets;
use crate::print::findings::template_slip;
use crate::print::pages::{self, BookPart, Format, Print};
use std::io::{self, BufReader, BufWriter, Read, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

/// The hidden command that a child is started with.
pub const COMMAND: &str = "set-apart";

/// Seconds that a print may take, unless the command line says otherwise.
pub const SECONDS: u64 = 20;

/// Seconds that a whole book may take.
pub const SECONDS_OF_A_BOOK: u64 = 120;

/// The memory that a child may ask for, in bytes. Fonts, library and the allocator's
/// reserve take about a tenth of it.
#[cfg(unix)]
const MEMORY: u64 = 3 << 30;

/// The longest frame, in bytes: what a house brings, or the file of a print.
const MAX_FRAME: u64 = 1 << 30;

/// Room for the deepest page, in bytes.
const STACK: usize = 32 << 20;

/// Seconds that a child goes on after the parent has given up on it: where the parent is
/// gone, nobody else ends it.
const GRACE: u64 = 5;

/// Prints after which a child forgets older pages.
const FORGET_AFTER: u64 = 8;

/// Sets the prints of one house.
pub struct Press {
    /// Sets our templates with our fonts.
    ours: pages::Press,
    /// Sets what the house brings, where it brings templates or fonts.
    apart: Option<Apart>,
}

/// The children that set one house's own templates.
struct Apart {
    /// What the house brings, as frames.
    assets: Vec<u8>,
    /// Seconds that a print may take.
    seconds: u64,
    idle: Mutex<Vec<Setter>>,
}

/// A child, and what it answers.
struct Setter {
    child: Child,
    jobs: BufWriter<ChildStdin>,
    answers: Receiver<Answer>,
}

/// The files of a print, or why there are none.
type Answer = Result<Vec<Vec<u8>>, String>;

impl Drop for Setter {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Press {
    /// A press with the house's own templates, fonts and logo; `seconds` is what a print by
    /// a template of the house's own may take.
    pub fn new(assets: &PrintAssets, seconds: u64) -> Self {
        let has_own = assets.templates.keys().any(|name| name.ends_with(".typ"));
        if has_own || !assets.fonts.is_empty() {
            let apart = Apart { assets: frames_of(assets), seconds, idle: Mutex::default() };
            return Self { ours: pages::Press::new(&PrintAssets::default()), apart: Some(apart) };
        }
        Self { ours: pages::Press::new(assets), apart: None }
    }

    /// Sets a document, as [`pages::Press::print`].
    ///
    /// # Errors
    /// What the typesetter has against the template, or that it was stopped.
    pub fn print(&self, print: Print, json: String, format: Format) -> Answer {
        match &self.apart {
            None => self.ours.print(print, json, format),
            Some(apart) => apart.set(&[print.word().into(), written(format), json.into()]),
        }
    }

    /// Sets a plan, as [`pages::Press::plan`].
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn plan(&self, json: String, format: Format) -> Answer {
        match &self.apart {
            None => self.ours.plan(json, format),
            Some(apart) => apart.set(&[PLAN.into(), written(format), json.into()]),
        }
    }

    /// Sets a day, as [`pages::Press::day`].
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn day(&self, json: String, format: Format) -> Answer {
        match &self.apart {
            None => self.ours.day(json, format),
            Some(apart) => apart.set(&[DAY.into(), written(format), json.into()]),
        }
    }

    /// Sets a book, as [`pages::Press::book`].
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn book(
        &self,
        book: String,
        parts: Vec<BookPart>,
        archive: bool,
    ) -> Result<Vec<u8>, String> {
        let Some(apart) = &self.apart else { return self.ours.book(book, parts, archive) };
        let mut job = vec![BOOK.into(), written(Format::Pdf { archive }), book.into()];
        job.extend(parts.into_iter().flat_map(|it| [it.print.word().into(), it.json.into()]));
        apart.set(&job)?.into_iter().next().ok_or_else(|| "nothing was set".to_owned())
    }

    /// Sets a booklet, as [`pages::Press::booklet`].
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn booklet(
        &self,
        booklet: String,
        parts: Vec<BookPart>,
        pictures: &[(String, Vec<u8>)],
        format: Format,
    ) -> Answer {
        let Some(apart) = &self.apart else {
            return self.ours.booklet(booklet, parts, pictures, format);
        };
        let mut job: Vec<Vec<u8>> = vec![BOOKLET.into(), written(format), booklet.into()];
        job.push(parts.len().to_string().into());
        job.extend(parts.into_iter().flat_map(|it| [it.print.word().into(), it.json.into()]));
        job.extend(pictures.iter().flat_map(|(name, it)| [name.clone().into(), it.clone()]));
        apart.set(&job)
    }

    /// Sets a woven book, as [`pages::Press::woven`].
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn woven(&self, book: String, pictures: &[(String, Vec<u8>)]) -> Answer {
        let Some(apart) = &self.apart else { return self.ours.woven(book, pictures) };
        let format = written(Format::Pdf { archive: false });
        let mut job: Vec<Vec<u8>> = vec![WOVEN.into(), format, book.into()];
        job.extend(pictures.iter().flat_map(|(name, it)| [name.clone().into(), it.clone()]));
        apart.set(&job)
    }

    /// The finding about a print that can't be set.
    pub fn slip(&self, print: &str, why: &str) -> Finding {
        template_slip::finding(print, why, self.apart.is_some())
    }

    /// Letters of a text that none of the fonts has.
    pub fn missing_letters(&self, json: &str) -> String {
        let Some(apart) = &self.apart else { return self.ours.missing_letters(json) };
        // Where a font takes the child down, the print that follows says so.
        let files = apart.set(&[MISSING.into(), Vec::new(), json.into()]).unwrap_or_default();
        files.into_iter().next().and_then(|it| String::from_utf8(it).ok()).unwrap_or_default()
    }
}

const MISSING: &str = "missing";
const PLAN: &str = "plan";
const DAY: &str = "day";
const BOOK: &str = "book";
const BOOKLET: &str = "booklet";
const WOVEN: &str = "woven";

impl Apart {
    /// Lets an idle child, or a new one, do a job; a child that fails is not kept.
    fn set(&self, job: &[Vec<u8>]) -> Answer {
        let idle = self.idle.lock().unwrap_or_else(PoisonError::into_inner).pop();
        let mut setter = match idle {
            Some(setter) => setter,
            None => self.start().map_err(|error| format!("no process for it: {error}"))?,
        };
        let sent = [
            vec![frame(&(job.len() as u64).to_le_bytes())],
            job.iter().map(|it| frame(it)).collect(),
        ]
        .concat()
        .iter()
        .try_for_each(|frame| setter.jobs.write_all(frame))
        .and_then(|()| setter.jobs.flush());
        let answer = match sent {
            Ok(()) => setter.answers.recv_timeout(Duration::from_secs(self.seconds)),
            Err(_) => Err(RecvTimeoutError::Disconnected),
        };
        match answer {
            Ok(answer) => {
                self.idle.lock().unwrap_or_else(PoisonError::into_inner).push(setter);
                answer
            }
            Err(RecvTimeoutError::Timeout) => Err(format!(
                "it was stopped after {} s; `--template-seconds` gives it longer",
                self.seconds
            )),
            Err(RecvTimeoutError::Disconnected) => Err(ENDED.to_owned()),
        }
    }

    fn start(&self) -> io::Result<Setter> {
        let mut child = Command::new(std::env::current_exe()?)
            .arg(COMMAND)
            .arg(self.seconds.to_string())
            // Each core has a child of its own.
            .env("RAYON_NUM_THREADS", "1")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()?;
        let (Some(jobs), Some(answers)) = (child.stdin.take(), child.stdout.take()) else {
            return Err(io::ErrorKind::BrokenPipe.into());
        };
        let (tell, told) = channel();
        std::thread::spawn(move || {
            let mut answers = BufReader::new(answers);
            while let Ok(answer) = read_answer(&mut answers)
                && tell.send(answer).is_ok()
            {}
        });
        let mut setter = Setter { child, jobs: BufWriter::new(jobs), answers: told };
        setter.jobs.write_all(&self.assets)?;
        Ok(setter)
    }
}

/// Why a child is gone, as far as can be told.
const ENDED: &str = if cfg!(unix) {
    "the process that set it came to an end; it may use 3 GB of memory"
} else {
    "the process that set it came to an end"
};

/// What a child does: sets job after job until its parent has no more.
pub fn serve(seconds: u64) -> Exit {
    limit_memory();
    let deadline = std::sync::Arc::new(AtomicU64::new(u64::MAX));
    watch(deadline.clone(), seconds + GRACE);
    let worker = std::thread::Builder::new().stack_size(STACK).spawn(move || {
        let mut jobs = io::stdin().lock();
        let mut answers = BufWriter::new(io::stdout().lock());
        // An end of the input, or of the output, is the end of the work.
        let _ = serve_all(&mut jobs, &mut answers, &deadline);
    });
    let ended = worker.is_ok_and(|worker| worker.join().is_ok());
    if ended { Exit::Clean } else { Exit::Findings }
}

fn serve_all(
    jobs: &mut impl Read,
    answers: &mut impl Write,
    deadline: &AtomicU64,
) -> io::Result<()> {
    let press = pages::Press::new(&read_assets(jobs)?);
    for count in 1.. {
        let job = read_list(jobs)?;
        deadline.store(0, Ordering::Relaxed);
        let answer = done(&press, &job);
        deadline.store(u64::MAX, Ordering::Relaxed);
        let (word, frames) = match answer {
            Ok(files) => (DONE, files),
            Err(why) => (SLIP, vec![why.into_bytes()]),
        };
        answers.write_all(&frame(word.as_bytes()))?;
        answers.write_all(&frame(&(frames.len() as u64).to_le_bytes()))?;
        for file in frames {
            answers.write_all(&frame(&file))?;
        }
        answers.flush()?;
        if count % FORGET_AFTER == 0 {
            pages::forget();
        }
    }
    Ok(())
}

const DONE: &str = "done";
const SLIP: &str = "slip";

/// Sets one job; one that is not understood is a bug of ours, and told as such.
fn done(press: &pages::Press, job: &[Vec<u8>]) -> Answer {
    let text = |at: usize| job.get(at).and_then(|it| String::from_utf8(it.clone()).ok());
    let garbled = || "its job was garbled, which is a bug of ours".to_owned();
    let (Some(verb), Some(format), Some(json)) = (text(0), text(1), text(2)) else {
        return Err(garbled());
    };
    if verb == MISSING {
        return Ok(vec![press.missing_letters(&json).into_bytes()]);
    }
    let format = read_format(format).ok_or_else(garbled)?;
    let print_of = |word: &str| Print::ALL.into_iter().find(|print| print.word() == word);
    match verb.as_str() {
        PLAN => press.plan(json, format),
        DAY => press.day(json, format),
        BOOK => {
            let parts = (3..job.len())
                .step_by(2)
                .map(|at| Some(BookPart { print: print_of(&text(at)?)?, json: text(at + 1)? }));
            let parts = parts.collect::<Option<Vec<BookPart>>>().ok_or_else(garbled)?;
            let archive = matches!(format, Format::Pdf { archive: true });
            Ok(vec![press.book(json, parts, archive)?])
        }
        BOOKLET => {
            let count: usize = text(3).and_then(|it| it.parse().ok()).ok_or_else(garbled)?;
            let last = 4 + 2 * count;
            let parts = (4..last)
                .step_by(2)
                .map(|at| Some(BookPart { print: print_of(&text(at)?)?, json: text(at + 1)? }));
            let parts = parts.collect::<Option<Vec<BookPart>>>().ok_or_else(garbled)?;
            let pictures = pictures(job, last).ok_or_else(garbled)?;
            press.booklet(json, parts, &pictures, format)
        }
        WOVEN => press.woven(json, &pictures(job, 3).ok_or_else(garbled)?),
        word => press.print(print_of(word).ok_or_else(garbled)?, json, format),
    }
}

/// The pictures of a job, by name, from one of its frames on.
fn pictures(job: &[Vec<u8>], from: usize) -> Option<Vec<(String, Vec<u8>)>> {
    let one = |pair: &[Vec<u8>]| {
        let name = String::from_utf8(pair.first()?.clone()).ok()?;
        Some((name, pair.get(1)?.clone()))
    };
    job.get(from..)?.chunks(2).map(one).collect()
}

/// Ends the process when a job takes longer than its parent waits for it. The counter is
/// `u64::MAX` while nothing is set, and counts seconds while something is.
fn watch(seconds: std::sync::Arc<AtomicU64>, most: u64) {
    std::thread::spawn(move || {
        loop {
            std::thread::sleep(Duration::from_secs(1));
            let more = |now: u64| (now != u64::MAX).then(|| now.saturating_add(1));
            let before = seconds.fetch_update(Ordering::Relaxed, Ordering::Relaxed, more);
            if before.is_ok_and(|before| before >= most) {
                std::process::exit(Exit::Findings as i32);
            }
        }
    });
}

/// Limits what this process may ask for; where that is refused, time is still limited.
#[cfg(unix)]
fn limit_memory() {
    use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
    let hard = getrlimit(Resource::As).maximum;
    let most = hard.map_or(MEMORY, |hard| hard.min(MEMORY));
    let _ = setrlimit(Resource::As, Rlimit { current: Some(most), maximum: Some(most) });
    // No picture of the memory is left behind.
    let _ = setrlimit(Resource::Core, Rlimit { current: Some(0), maximum: Some(0) });
}

#[cfg(not(unix))]
fn limit_memory() {}

fn written(format: Format) -> Vec<u8> {
    match format {
        Format::Pdf { archive: false } => "pdf".into(),
        Format::Pdf { archive: true } => "archive".into(),
        Format::Svg => "svg".into(),
        Format::Png(dpi) => dpi.to_string().into(),
    }
}

fn read_format(written: String) -> Option<Format> {
    Some(match written.as_str() {
        "pdf" => Format::Pdf { archive: false },
        "archive" => Format::Pdf { archive: true },
        "svg" => Format::Svg,
        dpi => Format::Png(dpi.parse().ok()?),
    })
}

/// What a house brings, as frames: its templates by name, its fonts, its logo, and whether
/// the fonts of the machine may stand in.
fn frames_of(assets: &PrintAssets) -> Vec<u8> {
    let templates = assets.templates.iter();
    let templates: Vec<&[u8]> = templates.flat_map(|(name, it)| [name.as_bytes(), it]).collect();
    let fonts: Vec<&[u8]> = assets.fonts.iter().map(Vec::as_slice).collect();
    let logo: Vec<&[u8]> = assets.logo.iter().map(Vec::as_slice).collect();
    let system: &[&[u8]] = if assets.system_fonts { &[b"system"] } else { &[] };
    [list(&templates), list(&fonts), list(&logo), list(system)].concat()
}

fn read_assets(from: &mut impl Read) -> io::Result<PrintAssets> {
    let mut assets = PrintAssets::default();
    let mut templates = read_list(from)?.into_iter();
    while let (Some(name), Some(bytes)) = (templates.next(), templates.next()) {
        assets.templates.insert(String::from_utf8_lossy(&name).into_owned(), bytes);
    }
    assets.fonts = read_list(from)?;
    assets.logo = read_list(from)?.pop();
    assets.system_fonts = !read_list(from)?.is_empty();
    Ok(assets)
}

fn read_answer(from: &mut impl Read) -> io::Result<Answer> {
    let word = read_frame(from)?;
    let mut frames = read_list(from)?;
    if word == DONE.as_bytes() {
        return Ok(Ok(frames));
    }
    let why = frames.pop().unwrap_or_default();
    Ok(Err(String::from_utf8_lossy(&why).into_owned()))
}

fn frame(bytes: &[u8]) -> Vec<u8> {
    [&(bytes.len() as u64).to_le_bytes(), bytes].concat()
}

/// Several frames, after one that says how many.
fn list(frames: &[&[u8]]) -> Vec<u8> {
    let mut list = frame(&(frames.len() as u64).to_le_bytes());
    for bytes in frames {
        list.extend(frame(bytes));
    }
    list
}

fn read_frame(from: &mut impl Read) -> io::Result<Vec<u8>> {
    let mut length = [0; 8];
    from.read_exact(&mut length)?;
    let length = u64::from_le_bytes(length);
    if length > MAX_FRAME {
        return Err(io::ErrorKind::InvalidData.into());
    }
    let mut bytes = Vec::new();
    from.take(length).read_to_end(&mut bytes)?;
    match bytes.len() as u64 == length {
        true => Ok(bytes),
        false => Err(io::ErrorKind::UnexpectedEof.into()),
    }
}

fn read_list(from: &mut impl Read) -> io::Result<Vec<Vec<u8>>> {
    let count = read_frame(from)?;
    let count = count.try_into().map(u64::from_le_bytes);
    let count = count.map_err(|_| io::Error::from(io::ErrorKind::InvalidData))?;
    (0..count).map(|_| read_frame(from)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_house_brings_comes_out_as_it_went_in() {
        let mut assets = PrintAssets { system_fonts: true, ..PrintAssets::default() };
        assets.templates.insert("card.typ".into(), b"= Card".to_vec());
        assets.templates.insert("words.ftl".into(), Vec::new());
        assets.fonts = vec![vec![1, 2, 3], Vec::new()];
        assets.logo = Some(vec![0; 70_000]);
        let read = read_assets(&mut frames_of(&assets).as_slice()).expect("whole");
        assert_eq!(read.templates, assets.templates);
        assert_eq!((read.fonts, read.logo, read.system_fonts), (assets.fonts, assets.logo, true));
    }

    #[test]
    fn every_format_is_read_as_it_was_written() {
        for format in [
            Format::Pdf { archive: false },
            Format::Pdf { archive: true },
            Format::Svg,
            Format::Png(144.0),
        ] {
            let written = String::from_utf8(written(format)).expect("words");
            assert_eq!(read_format(written), Some(format));
        }
    }

    #[test]
    fn a_frame_that_breaks_off_is_refused() {
        let whole = frame(b"dough");
        for end in 0..whole.len() {
            assert!(read_frame(&mut &whole[..end]).is_err(), "{end}");
        }
        assert!(read_frame(&mut u64::MAX.to_le_bytes().as_slice()).is_err());
    }
}

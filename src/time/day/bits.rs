//! Sets of minutes as bits: what can be done when, a word of 64 minutes at a time.

/// A set of minutes.
pub type Bits = [u64];

/// Words for so many minutes.
pub fn words(minutes: usize) -> usize {
    minutes.div_ceil(64)
}

/// The bits of one word from a place on, and before another one.
fn mask(word: usize, from: usize, to: usize) -> u64 {
    let low = from.saturating_sub(word * 64);
    let high = to.saturating_sub(word * 64).min(64);
    if low >= high { 0 } else { (u64::MAX >> (64 - (high - low))) << low }
}

/// Adds what is in `from..to`.
pub fn add(set: &mut Bits, from: usize, to: usize) {
    for word in from / 64..words(to).min(set.len()) {
        set[word] |= mask(word, from, to);
    }
}

/// Takes away what is in `from..to`.
pub fn cut(set: &mut Bits, from: usize, to: usize) {
    for word in from / 64..words(to).min(set.len()) {
        set[word] &= !mask(word, from, to);
    }
}

/// Keeps what is in `from..to` alone.
pub fn keep(set: &mut Bits, from: usize, to: usize) {
    for (word, bits) in set.iter_mut().enumerate() {
        *bits &= mask(word, from, to);
    }
}

/// Whether a minute is in it.
pub fn has(set: &Bits, minute: usize) -> bool {
    set.get(minute / 64).is_some_and(|word| word >> (minute % 64) & 1 == 1)
}

/// Keeps what is in both.
pub fn both(set: &mut Bits, other: &Bits) {
    for (bits, other) in set.iter_mut().zip(other) {
        *bits &= other;
    }
}

/// Adds what is in the other.
pub fn join(set: &mut Bits, other: &Bits) {
    for (bits, other) in set.iter_mut().zip(other) {
        *bits |= other;
    }
}

/// The word of a set moved later by `by` minutes.
fn later(set: &Bits, word: usize, by: usize) -> u64 {
    let (far, near) = (by / 64, by % 64);
    if word < far {
        return 0;
    }
    let high = set[word - far] << near;
    let low = if near > 0 && word > far { set[word - far - 1] >> (64 - near) } else { 0 };
    high | low
}

/// The word of a set moved earlier by `by` minutes.
fn earlier(set: &Bits, word: usize, by: usize) -> u64 {
    let (far, near) = (by / 64, by % 64);
    let at = |word: usize| set.get(word).copied().unwrap_or(0);
    let low = at(word + far) >> near;
    let high = if near > 0 { at(word + far + 1) << (64 - near) } else { 0 };
    low | high
}

/// Moves everything by so many minutes, earlier if negative; what leaves the set is gone.
pub fn shift(set: &mut Bits, by: i32) {
    let far = by.unsigned_abs() as usize;
    if by > 0 {
        for word in (0..set.len()).rev() {
            set[word] = later(set, word, far);
        }
    } else if by < 0 {
        for word in 0..set.len() {
            set[word] = earlier(set, word, far);
        }
    }
}

/// Adds what is up to `most` minutes later than something in it.
pub fn spread_later(set: &mut Bits, most: usize) {
    let mut covered = 0;
    while covered < most {
        let step = (covered + 1).min(most - covered);
        for word in (0..set.len()).rev() {
            set[word] |= later(set, word, step);
        }
        covered += step;
    }
}

/// Adds what is up to `most` minutes earlier than something in it.
pub fn spread_earlier(set: &mut Bits, most: usize) {
    let mut covered = 0;
    while covered < most {
        let step = (covered + 1).min(most - covered);
        for word in 0..set.len() {
            set[word] |= earlier(set, word, step);
        }
        covered += step;
    }
}

/// Keeps the minutes from which `length` minutes on are all in it.
pub fn erode(set: &mut Bits, length: usize) {
    let mut covered = 1;
    while covered < length {
        let step = covered.min(length - covered);
        for word in 0..set.len() {
            set[word] &= earlier(set, word, step);
        }
        covered += step;
    }
}

/// Adds what is up to `most` minutes later than something in it, with all between free.
pub fn flow_later(set: &mut Bits, free: &Bits, most: usize, held: &mut Bits) {
    flow(free, most, held, |held, step| {
        for word in (0..set.len()).rev() {
            let (far, near) = (step / 64, step % 64);
            if word < far {
                break;
            }
            let high = (set[word - far] & held[word - far]) << near;
            let low = if near > 0 && word > far {
                (set[word - far - 1] & held[word - far - 1]) >> (64 - near)
            } else {
                0
            };
            set[word] |= high | low;
        }
    });
}

/// Adds what is up to `most` minutes earlier than something in it, with all between free.
pub fn flow_earlier(set: &mut Bits, free: &Bits, most: usize, held: &mut Bits) {
    flow(free, most, held, |held, step| {
        for word in 0..set.len() {
            set[word] |= earlier(set, word, step) & held[word];
        }
    });
}

/// Steps that cover `0..=most`, each with the minutes from which it stays free.
fn flow(free: &Bits, most: usize, held: &mut Bits, mut each: impl FnMut(&Bits, usize)) {
    held.copy_from_slice(free);
    let (mut covered, mut length) = (0, 1);
    while covered < most {
        let step = (covered + 1).min(most - covered);
        // A longer step than the last is free where two shorter ones are that follow or overlap.
        // The last may be shorter: its own minutes are then worked out again.
        if step < length {
            held.copy_from_slice(free);
            erode(held, step);
        } else if step > length {
            for word in 0..held.len() {
                held[word] &= earlier(held, word, step - length);
            }
        }
        length = step;
        each(held, step);
        covered += step;
    }
}

/// The first in `from..to`.
pub fn first(set: &Bits, from: usize, to: usize) -> Option<usize> {
    (from / 64..words(to).min(set.len())).find_map(|word| {
        let bits = set[word] & mask(word, from, to);
        (bits != 0).then(|| word * 64 + bits.trailing_zeros() as usize)
    })
}

/// The last in `from..to`.
pub fn last(set: &Bits, from: usize, to: usize) -> Option<usize> {
    (from / 64..words(to).min(set.len())).rev().find_map(|word| {
        let bits = set[word] & mask(word, from, to);
        (bits != 0).then(|| word * 64 + 63 - bits.leading_zeros() as usize)
    })
}

/// How many minutes from one on are in it without a break, `most` at most.
pub fn run_after(set: &Bits, from: usize, most: usize) -> usize {
    let mut run = 0;
    while run < most {
        let at = from + run;
        let Some(word) = set.get(at / 64) else { break };
        let here = ((!(word >> (at % 64))).trailing_zeros() as usize).min(64 - at % 64);
        run += here;
        if here < 64 - at % 64 {
            break;
        }
    }
    run.min(most)
}

/// How many minutes before one are in it without a break, `most` at most.
pub fn run_before(set: &Bits, to: usize, most: usize) -> usize {
    let mut run = 0;
    while run < most && run < to {
        let at = to - run - 1;
        let Some(word) = set.get(at / 64) else { break };
        let here = ((!(word << (63 - at % 64))).leading_zeros() as usize).min(at % 64 + 1);
        run += here;
        if here < at % 64 + 1 {
            break;
        }
    }
    run.min(most)
}

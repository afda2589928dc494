//! Sets of minutes as bits: what can be done when, a word of 64 minutes at a time.

use std::cell::Cell;

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

/// Of 64 minutes those of which a number is at least so much.
pub fn at_least(numbers: &[i32; 64], amount: i32) -> u64 {
    let mut bytes = [0; 64];
    for (byte, number) in bytes.iter_mut().zip(numbers) {
        *byte = u8::from(*number >= amount);
    }
    let (eights, _) = bytes.as_chunks();
    eights.iter().rev().fold(0, |word, eight| {
        // The product has the lowest bit of each byte side by side in its highest byte.
        word << 8 | u64::from_le_bytes(*eight).wrapping_mul(0x0102_0408_1020_4080) >> 56
    })
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

/// Whether all of another is in it.
pub fn holds(set: &Bits, other: &Bits) -> bool {
    set.iter().zip(other).all(|(bits, other)| other & !bits == 0)
}

/// Hands each word to `each` with what moves there if all moves `by` minutes earlier.
fn each_earlier(set: &mut Bits, by: usize, each: impl Fn(u64, u64) -> u64) {
    let (far, near) = (by / 64, (by % 64) as u32);
    let cells = Cell::from_mut(set).as_slice_of_cells();
    let from = cells.get(far..).unwrap_or_default();
    let next = from.iter().skip(1).map(Cell::get).chain(std::iter::once(0));
    for ((cell, word), next) in cells.iter().zip(from).zip(next) {
        let moved = word.get() >> near | next << 1 << (63 - near);
        cell.set(each(cell.get(), moved));
    }
    for cell in &cells[from.len()..] {
        cell.set(each(cell.get(), 0));
    }
}

/// Hands each word to `each` with what moves there if all moves `by` minutes later.
fn each_later(set: &mut Bits, by: usize, each: impl Fn(u64, u64) -> u64) {
    let (far, near) = (by / 64, (by % 64) as u32);
    let cells = Cell::from_mut(set).as_slice_of_cells();
    let rest = far.min(cells.len());
    let (first, to) = cells.split_at(rest);
    let from = &cells[..to.len()];
    let next = from.iter().rev().skip(1).map(Cell::get).chain(std::iter::once(0));
    for ((cell, word), next) in to.iter().rev().zip(from.iter().rev()).zip(next) {
        let moved = word.get() << near | next >> 1 >> (63 - near);
        cell.set(each(cell.get(), moved));
    }
    for cell in first {
        cell.set(each(cell.get(), 0));
    }
}

/// Moves everything by so many minutes, earlier if negative; what leaves the set is gone.
pub fn shift(set: &mut Bits, by: i32) {
    let far = by.unsigned_abs() as usize;
    if by > 0 {
        each_later(set, far, |_, moved| moved);
    } else if by < 0 {
        each_earlier(set, far, |_, moved| moved);
    }
}

/// Adds what is up to `most` minutes later than something in it.
pub fn spread_later(set: &mut Bits, most: usize) {
    let mut covered = 0;
    while covered < most {
        let step = (covered + 1).min(most - covered);
        each_later(set, step, |word, moved| word | moved);
        covered += step;
    }
}

/// Adds what is up to `most` minutes earlier than something in it.
pub fn spread_earlier(set: &mut Bits, most: usize) {
    let mut covered = 0;
    while covered < most {
        let step = (covered + 1).min(most - covered);
        each_earlier(set, step, |word, moved| word | moved);
        covered += step;
    }
}

/// Keeps the minutes from which `length` minutes on are all in it.
pub fn erode(set: &mut Bits, length: usize) {
    let mut covered = 1;
    while covered < length {
        let step = covered.min(length - covered);
        each_earlier(set, step, |word, moved| word & moved);
        covered += step;
    }
}

/// Adds what is up to `most` minutes later than something in it, with all between free.
pub fn flow_later(set: &mut Bits, free: &Bits, most: usize, held: &mut Bits) {
    flow(free, most, held, |held, step| {
        let (far, near) = (step / 64, (step % 64) as u32);
        let cells = Cell::from_mut(&mut *set).as_slice_of_cells();
        let to = cells.get(far..).unwrap_or_default();
        let from = &cells[..to.len()];
        let leaves = |(word, held): (&Cell<u64>, &u64)| word.get() & held;
        let next = from.iter().zip(held).rev().skip(1).map(leaves).chain(std::iter::once(0));
        for ((cell, word), next) in to.iter().rev().zip(from.iter().zip(held).rev()).zip(next) {
            let moved = leaves(word) << near | next >> 1 >> (63 - near);
            cell.set(cell.get() | moved);
        }
    });
}

/// Adds what is up to `most` minutes earlier than something in it, with all between free.
pub fn flow_earlier(set: &mut Bits, free: &Bits, most: usize, held: &mut Bits) {
    flow(free, most, held, |held, step| {
        let (far, near) = (step / 64, (step % 64) as u32);
        let cells = Cell::from_mut(&mut *set).as_slice_of_cells();
        let from = cells.get(far..).unwrap_or_default();
        let next = from.iter().skip(1).map(Cell::get).chain(std::iter::once(0));
        for (((cell, held), word), next) in cells.iter().zip(held).zip(from).zip(next) {
            let moved = word.get() >> near | next << 1 << (63 - near);
            cell.set(cell.get() | moved & held);
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
            each_earlier(held, step - length, |word, moved| word & moved);
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

/// How many minutes from one on are in both without a break, `most` at most.
pub fn run_after(set: &Bits, other: &Bits, from: usize, most: usize) -> usize {
    let mut run = 0;
    while run < most {
        let at = from + run;
        let (Some(word), Some(other)) = (set.get(at / 64), other.get(at / 64)) else { break };
        let here = ((!(word & other) >> (at % 64)).trailing_zeros() as usize).min(64 - at % 64);
        run += here;
        if here < 64 - at % 64 {
            break;
        }
    }
    run.min(most)
}

/// How many minutes before one are in both without a break, `most` at most.
pub fn run_before(set: &Bits, other: &Bits, to: usize, most: usize) -> usize {
    let mut run = 0;
    while run < most && run < to {
        let at = to - run - 1;
        let (Some(word), Some(other)) = (set.get(at / 64), other.get(at / 64)) else { break };
        let here = (!(word & other) << (63 - at % 64)).leading_zeros() as usize;
        let here = here.min(at % 64 + 1);
        run += here;
        if here < at % 64 + 1 {
            break;
        }
    }
    run.min(most)
}

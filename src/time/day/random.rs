//! Numbers that look random and are the same each time.

/// A row of numbers that follows from its first.
#[derive(Debug, Clone)]
pub struct Random(u64);

impl Random {
    /// The row of a number.
    pub fn new(first: u64) -> Self {
        Self(first)
    }

    /// The next number: SplitMix64 (Steele, Lea and Flood, 2014; public domain).
    fn draw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// One of `0..most`; 0 where there is none.
    pub fn below(&mut self, most: u32) -> u32 {
        let wide = u128::from(self.draw()) * u128::from(most);
        u32::try_from(wide >> 64).unwrap_or(0)
    }

    /// A place in a list of so many.
    pub fn place(&mut self, count: usize) -> usize {
        self.below(u32::try_from(count).unwrap_or(u32::MAX)) as usize
    }

    /// Some minutes, fewer than `most`.
    pub fn minutes(&mut self, most: u32) -> i32 {
        i32::try_from(self.below(most)).unwrap_or(0)
    }

    /// Puts a list in another order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for at in (1..list.len()).rev() {
            let other = self.place(at + 1);
            list.swap(at, other);
        }
    }
}

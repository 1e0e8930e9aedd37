//! Pseudo-random numbers that repeat: a shift register of 64 bits (G. Marsaglia, J. Stat. Softw. 8 (2003) 14; MEMORY).

pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        Random(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) | 1)
    }

    /// Evenly distributed between 0 and 1.
    pub fn next(&mut self) -> f64 {
        for _ in 0..2 {
            self.0 ^= self.0 << 13;
            self.0 ^= self.0 >> 7;
            self.0 ^= self.0 << 17;
        }
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

//! Chance from a fixed seed, the same on any machine.
#![allow(dead_code)] // Each test file uses its own part.

/// Chance from a fixed seed: SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, 2014, from memory).
pub struct Chance(pub u64);

impl Chance {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let a = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let b = (a ^ (a >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        b ^ (b >> 31)
    }

    /// Evenly between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// 1 or −1.
    pub fn sign(&mut self) -> f64 {
        [1.0, -1.0][(self.bits() % 2) as usize]
    }

    /// Normal about zero: the sum of twelve even ones.
    pub fn normal(&mut self, deviation: f64) -> f64 {
        deviation * (0..12).map(|_| self.between(-0.5, 0.5)).sum::<f64>()
    }
}

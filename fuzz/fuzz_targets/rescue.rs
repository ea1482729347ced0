#![no_main]

#[path = "../../tests/entrances/mod.rs"]
mod entrances;
mod twister;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};

fuzz_target!(|data: &[u8]| twister::enter(data, entrances::rescue));
fuzz_mutator!(|data: &mut [u8], size: usize, most: usize, seed: u32| {
    twister::twist(data, size, most, seed)
});

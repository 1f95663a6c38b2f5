#![no_main]

libfuzzer_sys::fuzz_target!(|input: &[u8]| leaveline_fuzz::play(input));

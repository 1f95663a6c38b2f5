//! Checks that print what they found.

/// Prints one check, and fails it if `got` lies further than `tolerance` from
/// `expected`. `cargo test published -- --nocapture` lists them all.
#[track_caller]
pub fn check_printed(name: &str, got: f64, expected: f64, tolerance: f64) {
    println!("{}", line(name, got, &number(expected, tolerance), tolerance));
    let off = (got - expected).abs();
    assert!(
        off <= tolerance,
        "{name}: expected {expected} ± {tolerance:e}, got {got}: off {off:e}"
    );
}

/// [`check_printed`] with a tolerance that is a share of the expected value.
#[track_caller]
pub fn check_close(name: &str, got: f64, expected: f64, share: f64) {
    check_printed(name, got, expected, share * expected.abs());
}

/// A closed form: good to 1e-9 of its value.
#[track_caller]
pub fn check_exact(name: &str, got: f64, expected: f64) {
    check_close(name, got, expected, 1e-9);
}

/// Prints one check against a range, and fails it outside.
#[track_caller]
pub fn check_between(name: &str, got: f64, least: f64, most: f64) {
    let tolerance = (most - least) / 2.0;
    println!("{}", line(name, got, &format!("{least} to {most}"), tolerance));
    assert!((least..=most).contains(&got), "{name}: expected {least} to {most}, got {got}");
}

/// A published value that the model misses, kept: fails when the model no longer
/// gives `today`, and when it no longer misses.
#[track_caller]
pub fn check_missed(name: &str, got: f64, today: f64, published: f64, tolerance: f64) {
    println!("{} (missed)", line(name, got, &number(published, tolerance), tolerance));
    assert!((got - today).abs() <= tolerance, "{name}: today's value was {today}, got {got}");
    assert!((got - published).abs() > tolerance, "{name}: {published} is no longer missed");
}

fn line(name: &str, got: f64, expected: &str, tolerance: f64) -> String {
    let thread = std::thread::current();
    let test = thread.name().unwrap_or("main");
    format!("{test}: {name}: expected {expected}, got {}", number(got, tolerance))
}

/// `value` with two decimals more than `tolerance` can tell; whole, if it is nil.
fn number(value: f64, tolerance: f64) -> String {
    if tolerance <= 0.0 {
        return value.to_string();
    }
    let decimals = (2.0 - tolerance.log10().floor()).clamp(0.0, 15.0);
    format!("{value:.*}", decimals as usize)
}

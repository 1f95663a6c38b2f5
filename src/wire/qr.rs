//! Codes for a camera: a text as the modules of a QR code, so that a printed sheet leads
//! back to its item.
//!
//! Made by the crate `qrcodegen` (ISO/IEC 18004, model 2). A damaged code can be read up to
//! 15 % of its codewords (level M), and more where the same size holds a higher level.

use crate::error::Error;
use qrcodegen::{QrCode, QrCodeEcc};
use serde::Serialize;
use std::fmt::Write;

/// Light modules on each side: ISO/IEC 18004 asks for four (from memory).
const QUIET_ZONE: i32 = 4;

/// A square of modules with its quiet zone, as path data that fills the dark ones.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CodeForm {
    /// Modules on each side, the quiet zone among them.
    pub size: i32,
    /// The error correction: `L`, `M`, `Q` or `H`.
    pub level: &'static str,
    /// In units of one module, y down.
    pub path: String,
}

/// Turns a text into a code.
///
/// # Errors
/// [`Error::Malformed`] if the text is longer than a code can hold.
///
/// # Examples
/// ```
/// let code = leaveline_trainer::wire::code("#read")?;
/// assert_eq!((code.size, code.level), (29, "H"), "21 modules and the quiet zone");
/// # Ok::<(), leaveline_core::Error>(())
/// ```
pub fn code(text: &str) -> Result<CodeForm, Error> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium)
        .map_err(|_| Error::malformed("text", "is longer than a code can hold"))?;
    let level = match code.error_correction_level() {
        QrCodeEcc::Low => "L",
        QrCodeEcc::Medium => "M",
        QrCodeEcc::Quartile => "Q",
        QrCodeEcc::High => "H",
    };
    Ok(CodeForm { size: code.size() + 2 * QUIET_ZONE, level, path: path_of(&code) })
}

/// Path data of the dark modules: one rectangle for each run of a row.
fn path_of(code: &QrCode) -> String {
    let mut path = String::new();
    for y in 0..code.size() {
        let mut start = 0;
        for x in 0..=code.size() {
            // Outside of the code every module is light.
            if code.get_module(x, y) {
                continue;
            }
            if x > start {
                let (left, top, run) = (start + QUIET_ZONE, y + QUIET_ZONE, x - start);
                // A text takes whatever is written into it.
                let _ = write!(path, "M{left} {top}h{run}v1h-{run}z");
            }
            start = x + 1;
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_has_its_quiet_zone_and_its_three_corners() {
        let code = code("a link").expect("short enough");
        assert_eq!(code.size, 29, "version 1 has 21 modules");
        // A finder pattern begins with seven dark modules (ISO/IEC 18004, from memory).
        for corner in ["M4 4h7v1h-7z", "M18 4h7v1h-7z", "M4 18h7v1h-7z"] {
            assert!(code.path.contains(corner), "{corner} in {}", code.path);
        }
        assert!(!code.path.contains("M18 18h7v1"), "the fourth corner has none");
    }

    #[test]
    fn the_level_never_falls_below_m() {
        for length in [1, 40, 200, 1000, 2331] {
            let code = code(&"a".repeat(length)).expect("short enough");
            assert_ne!(code.level, "L", "{length} characters");
        }
    }

    /// Byte mode at level M holds 2331 bytes: ISO/IEC 18004, table 7 (from memory).
    #[test]
    fn what_is_too_long_is_refused() {
        let refusal = code(&"a".repeat(2332)).expect_err("one too many");
        assert_eq!(refusal.field(), "text", "which field");
        assert_eq!(refusal.rule(), "is longer than a code can hold", "which rule");
    }
}

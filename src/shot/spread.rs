//! Points that fill a space evenly.

/// Number `index` of a series of points whose coordinates, 0 to 1, fill their space evenly
/// however many of them are taken.
///
/// # Source
/// Kronecker's sequence by powers of the root of x^(N + 1) = x + 1 (Roberts 2018, "The
/// unreasonable effectiveness of quasirandom sequences", from memory).
pub(super) fn spread_evenly<const N: usize>(index: u32) -> [f64; N] {
    let root = const { root(N + 1) };
    let mut part = 1.0;
    std::array::from_fn(|_| {
        part /= root;
        let at = 0.5 + part * f64::from(index + 1);
        at - at.floor()
    })
}

/// The root above 1 of x^n = x + 1, by Newton's steps.
const fn root(n: usize) -> f64 {
    let mut x = 1.5;
    let mut step = 0;
    while step < 50 {
        let mut power = 1.0;
        let mut k = 1;
        while k < n {
            power *= x;
            k += 1;
        }
        x -= (power * x - x - 1.0) / (n as f64 * power - 1.0);
        step += 1;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the golden ratio, and the plastic number from memory.
    #[test]
    fn roots_are_the_known_ones() {
        for (n, known) in [(2, 1.618_033_988_749_895), (3, 1.324_717_957_244_746)] {
            assert!((root(n) - known).abs() < 1e-15, "of x^{n}: {}", root(n));
        }
    }

    #[test]
    fn parts_of_the_space_share_more_evenly_than_by_luck() {
        let mut counts = [0.0_f64; 16];
        for index in 0..4096 {
            let point = spread_evenly::<4>(index);
            counts[(0..4).map(|k| usize::from(point[k] < 0.5) << k).sum::<usize>()] += 1.0;
        }
        let square = counts.map(|n| (n - 256.0) * (n - 256.0)).iter().sum::<f64>();
        // Luck's expectation is 4096 times what is not in one part.
        assert!(square < 0.5 * 4096.0 * 15.0 / 16.0, "{counts:?}");
    }
}

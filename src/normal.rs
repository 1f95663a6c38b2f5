//! The standard normal distribution, by `libm` alone.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Density at `x`.
pub fn density(x: f64) -> f64 {
    libm::exp(-0.5 * x * x) / (2.0 * PI).sqrt()
}

/// Probability of a value below `x`.
pub fn below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * FRAC_1_SQRT_2)
}

/// The value below which lies the share `p`, from 0 to 1 (both give infinity).
///
/// Relative accuracy about 1e-16.
///
/// # Source
/// Wichura 1988, Algorithm AS 241 (PPND16), Applied Statistics 37, 477;
/// coefficients from memory, checked against [`below`].
pub fn quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180625 - q * q;
        return q * ratio(r, &MIDDLE);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    let r = (-libm::log(tail)).sqrt();
    let size = if r <= 5.0 { ratio(r - 1.6, &NEAR) } else { ratio(r - 5.0, &FAR) };
    if tail <= 0.0 { f64::INFINITY.copysign(q) } else { size.copysign(q) }
}

/// Numerator and denominator, constant terms first.
type Ratio = [[f64; 8]; 2];

fn ratio(r: f64, [above, under]: &Ratio) -> f64 {
    let sum = |terms: &[f64; 8]| terms.iter().rev().fold(0.0, |sum, term| sum * r + term);
    sum(above) / sum(under)
}

const MIDDLE: Ratio = [
    [
        3.387_132_872_796_366_5,
        133.141_667_891_784_38,
        1_971.590_950_306_551_3,
        13_731.693_765_509_46,
        45_921.953_931_549_87,
        67_265.770_927_008_7,
        33_430.575_583_588_13,
        2_509.080_928_730_122_7,
    ],
    [
        1.0,
        42.313_330_701_600_91,
        687.187_007_492_057_9,
        5_394.196_021_424_751,
        21_213.794_301_586_597,
        39_307.895_800_092_71,
        28_729.085_735_721_943,
        5_226.495_278_852_854,
    ],
];

const NEAR: Ratio = [
    [
        1.423_437_110_749_683_5,
        4.630_337_846_156_546,
        5.769_497_221_460_691,
        3.647_848_324_763_204_5,
        1.270_458_252_452_368_4,
        0.241_780_725_177_450_6,
        0.022_723_844_989_269_184,
        7.745_450_142_783_414e-4,
    ],
    [
        1.0,
        2.053_191_626_637_759,
        1.676_384_830_183_803_8,
        0.689_767_334_985_1,
        0.148_103_976_427_480_08,
        0.015_198_666_563_616_457,
        5.475_938_084_995_345e-4,
        1.050_750_071_644_416_9e-9,
    ],
];

const FAR: Ratio = [
    [
        6.657_904_643_501_103,
        5.463_784_911_164_114,
        1.784_826_539_917_291_3,
        0.296_560_571_828_504_87,
        0.026_532_189_526_576_124,
        0.001_242_660_947_388_078_4,
        2.711_555_568_743_487_6e-5,
        2.010_334_399_292_288_1e-7,
    ],
    [
        1.0,
        0.599_832_206_555_888,
        0.136_929_880_922_735_8,
        0.014_875_361_290_850_615,
        7.868_691_311_456_133e-4,
        1.846_318_317_510_054_7e-5,
        1.421_511_758_316_446e-7,
        2.044_263_103_389_939_8e-15,
    ],
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_quantile_undoes_the_distribution() {
        for k in -370..=80 {
            let x = f64::from(k) * 0.1;
            let p = below(x);
            // What one rounding of p moves the quantile by.
            let rounding = 4e-16 * p / density(x) + 1e-14 * x.abs().max(1.0);
            let back = quantile(p);
            assert!((back - x).abs() <= rounding, "{x} came back as {back}");
        }
    }

    /// Source: Abramowitz and Stegun 1964, table 26.1 (from memory).
    #[test]
    fn tabled_values_hold() {
        for (x, p) in [
            (1.0, 0.841_344_746_068_543),
            (1.96, 0.975_002_104_851_780),
            (3.0, 0.998_650_101_968_370),
        ] {
            assert!((below(x) - p).abs() < 1e-15, "below {x}: {}", below(x));
        }
    }

    #[test]
    fn the_ends_are_infinite() {
        assert_eq!(quantile(0.0), f64::NEG_INFINITY, "nothing lies lower");
        assert_eq!(quantile(1.0), f64::INFINITY, "nothing lies higher");
    }
}

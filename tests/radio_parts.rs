//! Preferred values and the colour code.

mod common;

use common::{facts, prints_as};
use halfturn::radio::components::colour::{Colour, bands_of, read_bands};
use halfturn::radio::components::preferred::{Joint, Series, pairs};

// Check: the values of E6, E12 and E24
// Source: IEC 60063, as tabled by an amateur radio site
// Known by: read
#[test]
fn two_figure_series_have_the_published_values() {
    for series in [Series::E6, Series::E12, Series::E24] {
        let published: Vec<u16> = facts("e_series")
            .iter()
            .filter(|row| row[0] == series.name())
            .map(|row| row[1].parse::<u16>().unwrap() * 10)
            .collect();
        assert_eq!(series.decade(), published, "{}", series.name());
    }
}

// Check: the 48 values of E48, which are every second one of E96
// Source: IEC 60063
// Known by: memory
#[test]
fn three_figure_series_follow_the_rounding_rule() {
    let e48 = [
        100, 105, 110, 115, 121, 127, 133, 140, 147, 154, 162, 169, 178, 187, 196, 205, 215, 226,
        237, 249, 261, 274, 287, 301, 316, 332, 348, 365, 383, 402, 422, 442, 464, 487, 511, 536,
        562, 590, 619, 649, 681, 715, 750, 787, 825, 866, 909, 953,
    ];
    assert_eq!(Series::E48.decade(), e48);
    let every_second: Vec<u16> = Series::E96.decade().into_iter().step_by(2).collect();
    assert_eq!(every_second, e48);
    assert_eq!(Series::E96.decade()[..6], [100, 102, 105, 107, 110, 113]);
}

// Check: a value lies between its neighbours, across decades too
// Source: IEC 60063
// Known by: closed form
#[test]
fn a_value_finds_its_neighbours() {
    let around = Series::E12.around(950.0).unwrap();
    assert_eq!(
        (around.below, around.above, around.nearest),
        (820.0, 1000.0, 1000.0)
    );
    let exact = Series::E24.around(4700.0).unwrap();
    assert_eq!((exact.below, exact.above), (4700.0, 4700.0));
    let small = Series::E96.around(1.02e-11).unwrap();
    assert_eq!(small.nearest, 1.02e-11);
    assert!(Series::E24.around(0.0).is_err());
}

// Check: two 100 Ω in parallel are 50 Ω; 47 + 3.3 are 50.3 Ω
// Source: Kirchhoff's laws
// Known by: closed form
#[test]
fn pairs_hit_their_target() {
    let parallel = pairs(50.0, Series::E24, Joint::ReciprocalSum, 3).unwrap();
    prints_as(parallel[0].together, "50.000");
    assert_eq!(parallel.len(), 3);
    let series = pairs(50.3, Series::E12, Joint::Sum, 1).unwrap();
    assert_eq!((series[0].larger, series[0].smaller), (47.0, 3.3));
    assert!(pairs(-1.0, Series::E12, Joint::Sum, 1).is_err());
}

// Check: yellow violet red gold is 4.7 kΩ ±5 %; brown black black red brown is 10 kΩ ±1 %
// Source: IEC 60062
// Known by: memory
#[test]
fn colours_read_as_a_value_and_back() {
    use Colour::*;
    let marked = read_bands(&[Yellow, Violet], Red, Gold).unwrap();
    assert_eq!((marked.ohms, marked.tolerance), (4700.0, 5.0));
    let fine = read_bands(&[Brown, Black, Black], Red, Brown).unwrap();
    assert_eq!((fine.ohms, fine.tolerance), (10_000.0, 1.0));
    assert_eq!(
        read_bands(&[Red, Violet], Silver, Silver).unwrap().ohms,
        0.27
    );
    assert_eq!(bands_of(4700.0, 2).unwrap(), [Yellow, Violet, Red]);
    assert_eq!(bands_of(0.27, 2).unwrap(), [Red, Violet, Silver]);
    assert_eq!(bands_of(9.99e3, 2).unwrap(), [Brown, Black, Orange]);
    assert_eq!(
        read_bands(&[Gold, Red], Red, Gold).unwrap_err().to_string(),
        "There is no digit called “gold”; choose another."
    );
    assert!(bands_of(1e12, 2).is_err());
}

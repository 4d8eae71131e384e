//! Colour spaces, differences and colour vision against published values; the sources stand in `tests/data/README.md`.

#![allow(clippy::unwrap_used, reason = "helpers of tests may fail the test")]

use colour::{Lab, Linear, Sight, Srgb8, Xyz, ciede2000, ciede2000_textbook, confusions, seen_as};

fn rows(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().skip(1).filter(|line| !line.is_empty()).map(|line| line.split(',').collect())
}

fn number(text: &str) -> f64 {
    text.parse().unwrap()
}

/// Table 1 of Sharma, Wu, Dalal 2005, printed to four decimals.
#[test]
fn ciede2000_gives_the_34_published_differences() {
    let mut count = 0;
    for row in rows(include_str!("data/ciede2000_34.csv")) {
        let v: Vec<f64> = row.iter().map(|t| number(t)).collect();
        let (p, q) = (Lab { l: v[1], a: v[2], b: v[3] }, Lab { l: v[4], a: v[5], b: v[6] });
        for found in [ciede2000(p, q), ciede2000(q, p), ciede2000_textbook(p, q), ciede2000_textbook(q, p)] {
            assert!((found - v[7]).abs() < 5e-5, "pair {}: {found} instead of {}", v[0], v[7]);
        }
        count += 1;
    }
    assert_eq!(count, 34);
}

/// colour-science as the reference library, IEC 61966-2-1 and CIE 15.
#[test]
fn srgb_leads_to_the_published_linear_xyz_lab_and_oklab_values() {
    for row in rows(include_str!("data/srgb_lab_oklab.csv")) {
        let v: Vec<f64> = row.iter().map(|t| number(t)).collect();
        let colour = Srgb8::new(v[0] as u8, v[1] as u8, v[2] as u8);
        let close = |found: f64, place: usize, slack: f64| {
            assert!((found - v[place]).abs() < slack, "{}: {found} instead of {}", colour.to_hex(), v[place]);
        };
        let linear = colour.to_linear();
        (0..3).for_each(|i| close(f64::from(linear.0[i]), 3 + i, 1e-7));
        (0..3).for_each(|i| close(colour.to_xyz().0[i], 6 + i, 1e-9));
        let lab = colour.to_lab();
        [lab.l, lab.a, lab.b].into_iter().enumerate().for_each(|(i, found)| close(found, 9 + i, 1e-6));
        let ok = linear.to_oklab();
        [ok.l, ok.a, ok.b].into_iter().enumerate().for_each(|(i, found)| close(found, 15 + i, 2e-6));
        close(linear.relative_luminance(), 7, 1e-7);
    }
}

/// The table of pairs in Ottosson 2020, printed to three decimals.
#[test]
fn xyz_leads_to_the_published_oklab_values() {
    for row in rows(include_str!("data/oklab_published.csv")) {
        let v: Vec<f64> = row.iter().map(|t| number(t)).collect();
        let ok = Xyz([v[0], v[1], v[2]]).to_oklab();
        for (found, published) in [ok.l, ok.a, ok.b].into_iter().zip(&v[3..]) {
            assert!((found - published).abs() < 6e-4);
        }
    }
}

/// The 24-patch chart's Lab under D50 against its sRGB values: the way there is a Bradford adaptation, written out here.
#[test]
fn the_24_patches_have_their_lab_values() {
    const D50: [f64; 3] = [0.964_22, 1.0, 0.825_21];
    // Bradford from D65 to D50, to seven decimals (common tables; from memory).
    const ADAPT: [[f64; 3]; 3] = [
        [1.047_811_2, 0.022_886_6, -0.050_127_0],
        [0.029_542_4, 0.990_484_4, -0.017_049_1],
        [-0.009_234_5, 0.015_043_6, 0.752_131_6],
    ];
    for row in rows(include_str!("data/chart24_lab_d50.csv")) {
        let v: Vec<f64> = [2, 3, 4, 5, 6, 7, 8].map(|i| number(row[i])).to_vec();
        if v[6] != 0.0 {
            continue;
        }
        let xyz = Srgb8::new(v[3] as u8, v[4] as u8, v[5] as u8).to_xyz().0;
        let f: Vec<f64> = (0..3)
            .map(|i| (0..3).map(|j| ADAPT[i][j] * xyz[j]).sum::<f64>() / D50[i])
            .map(|t| {
                if t > 216.0 / 24389.0 { units::maths::cbrt(t) } else { (24389.0 / 27.0 * t + 16.0) / 116.0 }
            })
            .collect();
        let found = Lab { l: 116.0 * f[1] - 16.0, a: 500.0 * (f[0] - f[1]), b: 200.0 * (f[1] - f[2]) };
        let published = Lab { l: v[0], a: v[1], b: v[2] };
        // The sRGB values are rounded to 8 bits, which is up to about half a unit of difference.
        assert!(ciede2000(found, published) < 0.6, "{}", row[1]);
    }
}

/// Machado, Oliveira, Fernandes 2009, severity 1.0.
#[test]
fn colour_blind_sight_uses_the_published_matrices() {
    let data: serde_json::Value = serde_json::from_str(include_str!("data/cvd_matrices.json")).unwrap();
    for (name, sight) in
        [("Protanomaly", Sight::Protan), ("Deuteranomaly", Sight::Deutan), ("Tritanomaly", Sight::Tritan)]
    {
        let matrix = &data["machado2009"][name]["1.0"];
        for channel in 0..3 {
            let mut light = [0.0; 3];
            light[channel] = 0.5;
            let seen = seen_as(Linear(light), sight);
            for out in 0..3 {
                let expected = (0.5 * matrix[out][channel].as_f64().unwrap()).clamp(0.0, 1.0);
                assert!((f64::from(seen.0[out]) - expected).abs() < 1e-7);
            }
        }
    }
}

#[test]
fn red_and_green_are_confused_by_the_colour_blind_only() {
    let colours = ["#7e6b00", "#a35400", "#f4f4f0"].map(|hex| Srgb8::from_hex(hex).unwrap().to_linear());
    let found = confusions(&colours, 11.0);
    let sights: Vec<Sight> =
        found.iter().filter(|c| (c.first, c.second) == (0, 1)).map(|c| c.sight).collect();
    assert!(sights.contains(&Sight::Deutan) && !sights.contains(&Sight::Normal), "{found:?}");
    assert!(found.iter().all(|c| c.second != 2));
}

#[test]
fn dark_blue_and_black_come_closer_in_hall_light() {
    let colours = ["#14142a", "#0c0c0c"].map(|hex| Srgb8::from_hex(hex).unwrap().to_linear());
    let found = confusions(&colours, 100.0);
    let under = |sight| found.iter().find(|c| c.sight == sight).unwrap().difference;
    assert!(under(Sight::HallLight) < 0.8 * under(Sight::Normal));
}

#[test]
fn a_colour_is_not_confused_with_one_that_looks_different_everywhere() {
    let colours = [Srgb8::new(255, 255, 255), Srgb8::new(0, 0, 0)].map(Srgb8::to_linear);
    assert!(confusions(&colours, 50.0).is_empty());
}

//! Quantities as strings with their unit, such as "15 mm".

/// What is measured, with the units that are read. The first is the one in which it is stored and written.
#[derive(Debug, Clone, Copy)]
pub(super) enum Measure {
    Length,
    Time,
    Mass,
    Angle,
}

impl Measure {
    fn units(self) -> &'static [(&'static str, f64)] {
        match self {
            Self::Length => &[("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", 25.4)],
            Self::Time => &[("s", 1.0), ("min", 60.0), ("h", 3600.0)],
            Self::Mass => &[("g", 1.0), ("kg", 1000.0)],
            Self::Angle => &[("deg", 1.0), ("°", 1.0)],
        }
    }

    /// An example for messages.
    pub(super) fn example(self) -> &'static str {
        match self {
            Self::Length => "\"15 mm\"",
            Self::Time => "\"1.5 s\"",
            Self::Mass => "\"8.5 g\"",
            Self::Angle => "\"90 deg\"",
        }
    }

    /// The value in the stored unit; `None` where number or unit is not understood or the value not finite.
    pub(super) fn read(self, text: &str) -> Option<f64> {
        let text = text.trim();
        let figures = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))?;
        let (number, unit) = text.split_at(figures);
        let factor = self.units().iter().find(|(u, _)| *u == unit.trim())?.1;
        let value = number.parse::<f64>().ok()? * factor;
        value.is_finite().then_some(value)
    }
}

/// A length as it stands in a text plan: a number with `mm`, `cm`, `m` or `in`; `None` where it is none.
pub fn read_length(text: &str) -> Option<units::Length> {
    Measure::Length.read(text).map(units::Length::mm)
}

/// An angle as it stands in a text plan: a number with `deg` or `°`; `None` where it is none.
pub fn read_angle(text: &str) -> Option<units::Angle> {
    Measure::Angle.read(text).map(units::Angle::deg)
}

/// A length in millimetres, written to read back as the same bits.
pub(super) fn length(value: units::Length) -> String {
    format!("\"{} mm\"", value.to_mm())
}

pub(super) fn mass(value: units::Mass) -> String {
    format!("\"{} g\"", value.to_g())
}

pub(super) fn angle(value: units::Angle) -> String {
    format!("\"{} deg\"", value.to_deg())
}

/// A duration, in hours where they lose nothing.
pub(super) fn hours(value: units::Duration) -> String {
    let h = value.to_h();
    if h * 3600.0 == value.to_s() { format!("\"{h} h\"") } else { seconds(value) }
}

pub(super) fn seconds(value: units::Duration) -> String {
    format!("\"{} s\"", value.to_s())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_read_and_numbers_without_are_not() {
        assert_eq!(Measure::Length.read("15 mm"), Some(15.0));
        assert_eq!(Measure::Length.read("1.5m"), Some(1500.0));
        assert_eq!(Measure::Length.read("-2 in"), Some(-50.8));
        assert_eq!(Measure::Time.read("2 h"), Some(7200.0));
        assert_eq!(Measure::Time.read("1.5 min"), Some(90.0));
        assert_eq!(Measure::Length.read("2.5 cm"), Some(25.0));
        assert_eq!(Measure::Mass.read("0.5 kg"), Some(500.0));
        assert_eq!(Measure::Angle.read("30°"), Some(30.0));
        for bad in ["15", "mm", "15 g", "inf mm", "NaN mm", "1e3 mm", "1.2.3 mm", "--1 mm", ""] {
            assert_eq!(Measure::Length.read(bad), None, "{bad}");
        }
    }
}

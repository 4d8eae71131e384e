//! Figures as English texts for people have them.

/// A count with its thousands grouped by no-break spaces, as all texts for people have it.
pub fn grouped(count: u64) -> String {
    let figures = count.to_string();
    let mut out = String::with_capacity(figures.len() * 4 / 3 + 2);
    for (i, c) in figures.chars().enumerate() {
        if i > 0 && (figures.len() - i).is_multiple_of(3) {
            out.push('\u{a0}');
        }
        out.push(c);
    }
    out
}

/// A length in millimetres: at most two decimals, none without need.
pub(crate) fn millimetres(value: f64) -> String {
    let text = format!("{:.2}", value.abs());
    let (whole, rest) = text.split_once('.').unwrap_or((&text, ""));
    let rest = rest.trim_end_matches('0');
    let point = if rest.is_empty() { "" } else { "." };
    // Lengths beyond what can be counted are no lengths of a hall; they stay as they are written.
    let whole = whole.parse().map_or_else(|_| whole.to_owned(), grouped);
    let sign = if value < 0.0 && text != "0.00" { "-" } else { "" };
    format!("{sign}{whole}{point}{rest}\u{a0}mm")
}

/// A way of so many millimetres in whole metres.
pub(crate) fn metres(mm: f64) -> String {
    format!("{}\u{a0}m", grouped((mm / 1000.0).round() as u64))
}

/// Degrees to a tenth, none without need.
pub(crate) fn degrees(value: f64) -> String {
    let text = format!("{value:.1}");
    format!("{}°", text.strip_suffix(".0").unwrap_or(&text))
}

/// Tenths of a percent.
pub(crate) fn percent(per_mille: u64) -> String {
    format!("{}.{}\u{a0}%", per_mille / 10, per_mille % 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_grouped() {
        let plain = |n| grouped(n).replace('\u{a0}', " ");
        let length = |v| millimetres(v).replace('\u{a0}', " ");
        assert_eq!(
            [length(20_000.0), length(1_234_567.25), length(999.994)],
            ["20 000 mm", "1 234 567.25 mm", "999.99 mm"]
        );
        assert_eq!(
            [length(7.5), length(-1_048.0), length(-0.001), length(0.0)],
            ["7.5 mm", "-1 048 mm", "0 mm", "0 mm"]
        );
        assert_eq!([plain(0), plain(999), plain(7390), plain(1_234_567)], ["0", "999", "7 390", "1 234 567"]);
    }

    #[test]
    fn other_figures_keep_what_is_worth_telling() {
        let way = metres(12_345_600.0).replace('\u{a0}', " ");
        assert_eq!([degrees(30.0), degrees(8.88), way], ["30°", "8.9°", "12 346 m"]);
        assert_eq!(percent(333).replace('\u{a0}', " "), "33.3 %");
    }
}

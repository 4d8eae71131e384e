//! Numbers as people write them in lists: thousand separators, decimal commas, per cent.

/// A count of pieces and whether thousand separators were taken out. `None` when it is not a whole number of 0 or more.
///
/// `6750`, `6 750`, `6.750`, `6,750` and `6'750` are the same count; `6,75` is none.
/// `40.0` and `40,00` are 40, since spreadsheets write counts so.
pub(super) fn count(text: &str) -> Option<(u32, bool)> {
    let text = text.trim();
    // No count is this long; it also bounds the recursion below.
    if text.len() > 64 {
        return None;
    }
    let text = text.strip_prefix('+').unwrap_or(text);
    if text.bytes().all(|b| b.is_ascii_digit()) {
        return text.parse().ok().map(|n| (n, false));
    }
    if let Some((whole, zeros)) = text.rsplit_once(['.', ','])
        && (1..=2).contains(&zeros.len())
        && zeros.bytes().all(|b| b == b'0')
    {
        return count(whole);
    }
    let separator = text.chars().find(|c| !c.is_ascii_digit())?;
    if !matches!(separator, ' ' | '.' | ',' | '\'' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '’') {
        return None;
    }
    let groups: Vec<&str> = text.split(separator).collect();
    let (head, rest) = groups.split_first()?;
    let figures = |g: &str| g.bytes().all(|b| b.is_ascii_digit());
    let grouped = (1..=3).contains(&head.len())
        && figures(head)
        && !rest.is_empty()
        && rest.iter().all(|g| g.len() == 3 && figures(g));
    if !grouped {
        return None;
    }
    groups.concat().parse().ok().map(|n| (n, true))
}

/// A decimal number with a point or a comma. `None` for anything else, also for "inf" and "nan".
pub(super) fn decimal(text: &str) -> Option<f64> {
    let text = text.trim();
    let plain = text.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b',' | b'e' | b'-' | b'+'));
    let starts = text.bytes().next().is_some_and(|b| b.is_ascii_digit());
    let marks = text.bytes().filter(|b| matches!(b, b'.' | b',')).count();
    if !plain || !starts || marks > 1 {
        return None;
    }
    text.replace(',', ".").parse().ok().filter(|v: &f64| v.is_finite())
}

/// A share: `0.03`, `0,03`, `3 %` or `3%`.
pub(super) fn share(text: &str) -> Option<f64> {
    match text.trim().strip_suffix('%') {
        Some(percent) => decimal(percent).map(|v| v / 100.0),
        None => decimal(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_read_with_any_usual_thousand_separator() {
        for text in ["6750", "6 750", "6.750", "6,750", "6'750", "6\u{a0}750", "6750.0", "+6750", "6.750,00"]
        {
            assert_eq!(count(text).map(|c| c.0), Some(6750), "{text}");
        }
        for text in
            ["", "-40", "6,75", "12.5", "many", "6 75", "1,2,3", "99999999999", "6.750 000", "1e3", "٣"]
        {
            assert_eq!(count(text).filter(|_| !text.is_empty()), None, "{text}");
        }
    }

    #[test]
    fn decimals_take_a_point_or_a_comma_and_nothing_endless() {
        assert_eq!(decimal("7,58"), Some(7.58));
        assert_eq!(decimal("7.58"), Some(7.58));
        for text in ["", "inf", "NaN", "-1", "1.2.3", "1,2.3", "7 mm", "1e999"] {
            assert_eq!(decimal(text), None, "{text}");
        }
        assert_eq!(share("3 %"), Some(0.03));
        assert_eq!(share("0,03"), Some(0.03));
    }
}

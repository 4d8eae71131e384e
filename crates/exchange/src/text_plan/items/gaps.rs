//! Safety gaps as text: `"121-124"` or `"301-306 stopper"`, pieces counted from 1.

use plan::SafetyGap;

use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, quote};

pub(super) fn read(s: &Section<'_>) -> Vec<SafetyGap> {
    let mut gaps = Vec::new();
    for value in s.list("gaps") {
        match value.get_ref().as_str().and_then(gap) {
            Some(gap) => gaps.push(gap),
            None => {
                let problem = format!("{} does not name pieces to leave out", s.source.quoted(value.span()));
                let next = "Write \"121-124\" or \"121-124 stopper\", counted from 1";
                s.source.problem(value.span().start, problem, next);
            }
        }
    }
    gaps
}

fn gap(text: &str) -> Option<SafetyGap> {
    let (pieces, stopper) = match text.strip_suffix("stopper") {
        Some(pieces) => (pieces, true),
        None => (text, false),
    };
    let (first, last) = pieces.split_once('-').unwrap_or((pieces, pieces));
    let (first, last): (u32, u32) = (first.trim().parse().ok()?, last.trim().parse().ok()?);
    let first = first.checked_sub(1)?;
    Some(SafetyGap { first, count: last.checked_sub(first).filter(|&n| n > 0)?, stopper })
}

fn words(gap: &SafetyGap) -> String {
    let (first, last) = gap.for_people();
    let pieces = if first == last { first.to_string() } else { format!("{first}-{last}") };
    quote(&if gap.stopper { pieces + " stopper" } else { pieces })
}

impl Out<'_> {
    pub(in crate::text_plan) fn gaps(&mut self, gaps: &[SafetyGap]) {
        self.rows("gaps", &gaps.iter().map(words).collect::<Vec<_>>());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_are_counted_from_1_with_both_ends() {
        let of = |first, count, stopper| Some(SafetyGap { first, count, stopper });
        assert_eq!(gap("121-124"), of(120, 4, false));
        assert_eq!(gap("5 stopper"), of(4, 1, true));
        for bad in ["", "0-3", "4-3", "a", "3-", "stopper", "3 stoper", "1-99999999999"] {
            assert_eq!(gap(bad), None, "{bad}");
        }
        for text in ["\"121-124\"", "\"5 stopper\""] {
            assert_eq!(words(&gap(text.trim_matches('"')).expect("just read")), text);
        }
    }
}

//! Words that several verbs share: pieces counted, and where one stands. People count lanes and pieces from 1.

use fall::Report;
use findings::grouped;
use placement::PieceId;
use plan::{ItemId, Plan};

/// "1 piece", "452 pieces".
pub(crate) fn pieces(count: u32) -> String {
    format!("{} {}", grouped(count.into()), if count == 1 { "piece" } else { "pieces" })
}

/// "line Brook".
pub(crate) fn name(plan: &Plan, id: ItemId) -> String {
    plan.item(id).map_or_else(|| format!("item {id}"), |item| format!("{} {}", item.sort(), item.name))
}

/// "line Brook, lane 1, piece 17".
pub(crate) fn spot(plan: &Plan, piece: PieceId) -> String {
    let (lane, place) = (u64::from(piece.lane) + 1, u64::from(piece.rank) + 1);
    format!("{}, lane {}, piece {}", name(plan, piece.item), grouped(lane), grouped(place))
}

/// How much of a plan falls, in what time and how surely, as sentences.
pub(crate) fn how_much(report: &Report) -> String {
    if report.pieces == 0 {
        return "There is no piece in this plan.".into();
    }
    let time = if report.beyond {
        "more than a day; later times are not told apart".to_owned()
    } else {
        span(report.least_s, report.most_s)
    };
    let hang = report.fallen - report.surely;
    let surely = if hang == 0 { " surely" } else { "" };
    let mut said = match (report.fallen, report.pieces) {
        (0, 1) => return "Nothing falls: the only piece stays standing.".into(),
        (0, n) => return format!("Nothing falls: all {} stay standing.", pieces(n)),
        (1, 1) => format!("The only piece falls{surely}, in {time}."),
        (fallen, n) if fallen == n => format!("All {} fall{surely}, in {time}.", pieces(n)),
        (fallen, n) => format!("{} of {} fall, in {time}.", grouped(fallen.into()), pieces(n)),
    };
    if hang > 0 {
        let verb = if hang == 1 { "hangs" } else { "hang" };
        said += &format!(" {} of these {verb} on hits that may fail.", grouped(hang.into()));
    }
    said
}

/// A range of seconds; one figure when both ends read alike.
pub(crate) fn span(least: f64, most: f64) -> String {
    let places = if most < 20.0 { 1 } else { 0 };
    let (low, high) = (format!("{least:.places$}"), format!("{most:.places$}"));
    if low == high { format!("{low} s") } else { format!("{low} to {high} s") }
}

#[cfg(test)]
mod tests {
    use super::span;

    #[test]
    fn a_range_whose_ends_read_alike_is_one_figure() {
        assert_eq!(span(1.31, 1.34), "1.3 s");
        assert_eq!(span(1.31, 1.36), "1.3 to 1.4 s");
        assert_eq!(span(53.8, 54.2), "54 s");
    }
}

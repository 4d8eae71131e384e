//! What is said, as it travels.

use sayings::{Arg, Said, Unit};

use super::count;
use crate::wire;

/// Something that is said.
pub(crate) fn said(said: &Said) -> wire::SaidRow {
    let args = said.args().iter().map(|(name, value)| ((*name).to_owned(), arg(value))).collect();
    wire::SaidRow { key: said.key().to_owned(), args }
}

/// Sentences one after another.
pub(crate) fn sentences(all: &[Said]) -> Vec<wire::SaidRow> {
    all.iter().map(said).collect()
}

/// What a step is called, as the journal has it; `None` when whoever took it chose the words, or when what the journal
/// has is not a saying.
pub(crate) fn label_said(label: &desk::Label) -> Option<wire::SaidRow> {
    label.said().and_then(|text| serde_json::from_str(text).ok())
}

fn arg(arg: &Arg) -> wire::SaidArg {
    match arg {
        Arg::Text(text) => wire::SaidArg::Text(text.clone()),
        Arg::Count(n) => wire::SaidArg::Count(count(*n)),
        Arg::Length(mm) => wire::SaidArg::Length(*mm),
        Arg::Way(mm) => wire::SaidArg::Way(*mm),
        Arg::Degrees(value) => wire::SaidArg::Degrees(*value),
        Arg::PerMille(share) => wire::SaidArg::PerMille(count(*share)),
        Arg::Given(given) => wire::SaidArg::Given(wire::GivenArg {
            value: given.value(),
            unit: match given.unit() {
                Unit::None => wire::GivenUnit::None,
                Unit::Mm => wire::GivenUnit::Mm,
                Unit::Degrees => wire::GivenUnit::Degrees,
                Unit::Seconds => wire::GivenUnit::Seconds,
                Unit::Hours => wire::GivenUnit::Hours,
                Unit::Grams => wire::GivenUnit::Grams,
            },
            bare: given.is_bare(),
        }),
        Arg::Said(inner) => wire::SaidArg::Said(said(inner)),
        Arg::List(list) => wire::SaidArg::List(list.iter().map(self::arg).collect()),
        Arg::Sentences(all) => wire::SaidArg::Sentences(sentences(all)),
        Arg::Lines(all) => wire::SaidArg::Lines(sentences(all)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sayings::{Given, doing, found, say};

    #[test]
    fn what_a_step_is_called_comes_back_from_the_journal_as_it_would_travel() {
        let said = say!(
            doing::MATCH_AGAIN,
            n = 12_u64,
            names = Arg::List(vec![
                "Mill".into(),
                Arg::Length(7.5),
                Arg::PerMille(3),
                Given::bare(0.25, Unit::Grams).into(),
                Arg::Sentences(vec![say!(doing::HALL)]),
                Arg::Lines(vec![say!(doing::HALL)]),
                say!(doing::LAY, names = "Town").into(),
            ])
        );
        assert_eq!(label_said(&desk::Label::from(said.clone())), Some(super::said(&said)));
        assert_eq!(label_said(&desk::Label::from("Move Mill")), None);
    }

    #[test]
    fn what_is_said_travels_with_its_key_and_its_figures() {
        let inner = say!(found::SHORT_BY, item = "Mill", count = 12_u64);
        let whole = say!(
            found::SHORT,
            colour = "Sky",
            short = 1_u64,
            wanted = 12_u64,
            who = vec![inner.into()],
            owned = 11_u64
        );
        let told = serde_json::to_value(said(&whole)).unwrap();
        assert_eq!(
            told,
            serde_json::json!({
                "key": "found.short",
                "args": {
                    "colour": { "text": "Sky" }, "short": { "count": 1 }, "wanted": { "count": 12 }, "owned": { "count": 11 },
                    "who": { "list": [{ "said": { "key": "found.short.by", "args": { "item": { "text": "Mill" }, "count": { "count": 12 } } } }] },
                },
            })
        );
        let figures =
            [Arg::Length(7.5), Arg::Way(12e3), Arg::Degrees(30.0), Arg::PerMille(333)].map(|a| arg(&a));
        let told = serde_json::to_value(figures).unwrap();
        assert_eq!(
            told,
            serde_json::json!([{ "length": 7.5 }, { "way": 12e3 }, { "degrees": 30.0 }, { "per-mille": 333 }])
        );
    }
}

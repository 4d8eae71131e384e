//! Colours that the pictures would take more of than the stock has: the match gets by, the picture pays.

use plan::{ColourId, KindId, Plan};
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity};
use crate::short::{self, Needs};

/// `wanted` is what pictures and everything else would take if the stock did not matter. Where that is no more than what
/// the plan takes as it is laid, no picture is behind it, and another check says what is short.
pub(crate) fn check(
    plan: &Plan,
    needs: &Needs,
    wanted: &[(KindId, ColourId, u64)],
    found: &mut Vec<Finding>,
) {
    let laid = short::wanted(needs);
    for &(kind, colour, wanted) in wanted {
        let by_pictures = laid.get(&(kind, colour)).is_none_or(|laid| wanted > laid.total);
        let usable = plan.stock.usable(kind, colour);
        let Some(name) = plan.colour(colour).map(|c| c.name.as_str()) else { continue };
        if wanted <= usable || !by_pictures {
            continue;
        }
        found.push(Finding {
            code: "pictures-short",
            severity: Severity::Should,
            place: Place::words(say!(found::AT_STOCK_OF, name = name)),
            message: say!(
                found::WANTED,
                wanted = wanted,
                colour = name,
                usable = usable,
                short = wanted - usable
            ),
            hint: say!(found::WANTED_HINT),
            mend: None,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use plan::{Colour, Command, ItemId, Kind, Lot, LotId, Need, Rgb};

    #[test]
    fn only_what_the_stock_lacks_is_named_with_the_number_short() {
        let (kind, colour) = (KindId(1), ColourId(2));
        let grey = Rgb { r: 9, g: 9, b: 9 };
        let mut plan = Plan::new("");
        for command in [
            Command::PutKind { kind: Kind::usual(kind) },
            Command::PutColour { colour: Colour::plain(colour, "Sky", "S", grey) },
            Command::PutLot {
                lot: Lot {
                    id: LotId(3),
                    kind,
                    colour,
                    batch: String::new(),
                    owner: String::new(),
                    count: 7000,
                    offered: 0,
                    spare: 0.1,
                    crate_size: None,
                    thickness: None,
                    mass: None,
                },
            },
        ] {
            plan.apply(&command).unwrap();
        }
        let mut found = Vec::new();
        check(&plan, &[], &[(kind, colour, 6300)], &mut found);
        assert!(found.is_empty());
        // A line of 7390 pieces takes as many whether there is a picture or not.
        let line = |count| [(ItemId(4), vec![Need { kind, colour, count }])];
        check(&plan, &line(7390), &[(kind, colour, 7390)], &mut found);
        assert!(found.is_empty(), "{found:?}");
        check(&plan, &line(1000), &[(kind, colour, 7390)], &mut found);
        assert!(found[0].message.to_string().contains("short by 1\u{a0}090"), "{}", found[0].message);
    }
}

//! The example, from its text to a proven match.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use desk::{MatchAsk, PictureBank, PictureSource, WayOut};
use plan::{Command, ItemId, MatchGoal};

struct Pictures(desk::Example);

impl PictureSource for Pictures {
    fn picture_bytes(&self, sha256: &str) -> Result<Vec<u8>, desk::DeskError> {
        let at = self.0.plan.pictures.iter().position(|p| p.sha256 == sha256).unwrap();
        Ok(self.0.pictures[at].clone())
    }
}

fn example() -> Pictures {
    Pictures(desk::example_plan().unwrap())
}

fn fields(plan: &plan::Plan) -> Vec<ItemId> {
    plan.items.iter().filter(|i| i.field().is_some()).map(|i| i.id).collect()
}

#[test]
fn sky_and_pink_are_short_in_the_example_and_nothing_else_is() {
    let pictures = example();
    let plan = &pictures.0.plan;
    let shortage = desk::ways_out(plan, &PictureBank::new(), &pictures, None).unwrap();
    let short: Vec<_> =
        shortage.summary.short().iter().map(|l| plan.colour(l.colour).unwrap().name.as_str()).collect();
    assert_eq!(short, ["Sky", "Pink"]);
    assert_eq!(shortage.missing, 0, "every cell can be filled");
    for l in shortage.summary.short() {
        let bought = shortage.ways_out.iter().any(
            |w| matches!(w, WayOut::Buy { colour, pieces, .. } if *colour == l.colour && *pieces == l.short()),
        );
        assert!(bought, "buying exactly what is short is a way out");
    }
    assert!(
        shortage
            .ways_out
            .iter()
            .any(|w| matches!(w, WayOut::Borrow { owner, pieces: 350, .. } if owner == "Tomas"))
    );
    assert!(shortage.ways_out.iter().any(|w| matches!(w, WayOut::OtherColour { .. })));
}

#[test]
fn the_smaller_fields_that_are_offered_are_within_the_stock() {
    let pictures = example();
    let bank = PictureBank::new();
    let shortage = desk::ways_out(&pictures.0.plan, &bank, &pictures, None).unwrap();
    let Some(WayOut::SmallerFields { fields }) =
        shortage.ways_out.iter().find(|w| matches!(w, WayOut::SmallerFields { .. }))
    else {
        panic!("the example can be laid with smaller fields");
    };
    let mut plan = pictures.0.plan.clone();
    for &(id, lanes, ranks) in fields {
        let frame = plan.item(id).unwrap().field().unwrap().frame;
        assert!(lanes < frame.lanes && ranks < frame.ranks);
        plan.apply(&Command::SetFrame { id, frame: plan::FieldFrame { lanes, ranks, ..frame } }).unwrap();
    }
    let after = desk::ways_out(&plan, &bank, &pictures, None).unwrap();
    assert!(after.summary.short().is_empty(), "{:?}", after.summary.short());
}

#[test]
fn all_fields_share_one_stock_and_the_match_is_proven() {
    let pictures = example();
    let plan = &pictures.0.plan;
    let ask = MatchAsk {
        items: fields(plan),
        goal: Some(MatchGoal::Exact),
        fewer_changes: None,
        only: None,
        shows: None,
    };
    let prepared = desk::prepare(plan, &ask, &PictureBank::new(), &pictures, &|_| true).unwrap();
    let outcome = desk::run(&prepared, &mut |_| colour::Flow::Go).unwrap();
    assert_eq!(outcome.proof.objective, outcome.proof.bound);
    for (kind, colour, used) in &outcome.used {
        assert!(*used <= plan.stock.usable(*kind, *colour), "{colour:?}");
    }
    // Laying it takes what the match says, beside the 400 that the placeholder keeps.
    let mut laid = plan.clone();
    let steps = outcome.cells.iter().map(|(id, cells)| Command::Lay { id: *id, cells: cells.clone() });
    laid.apply(&Command::Together { steps: steps.collect() }).unwrap();
    let ash = plan.stock.colours.iter().find(|c| c.name == "Ash").unwrap().id;
    let needed: u32 = laid
        .items
        .iter()
        .flat_map(plan::Item::stated_needs)
        .filter(|n| n.colour == ash)
        .map(|n| n.count)
        .sum();
    let used = outcome.used.iter().find(|u| u.1 == ash).unwrap().2;
    assert_eq!(u64::from(needed), used + 400);
}

#[test]
fn what_is_seen_comes_out_better_than_cell_by_cell_and_says_how_far_the_sum_is_from_the_least() {
    let pictures = example();
    let mut plan = pictures.0.plan.clone();
    let town = plan.item_by_name("Town").unwrap().id;
    // From the far end of a large hall single pieces melt into one another.
    let wish = plan::MatchWish { seen_from: units::Length::m(60.0), ..plan::MatchWish::default() };
    plan.apply(&Command::SetWish { id: town, wish }).unwrap();
    let plan = &plan;
    let run = |goal| {
        let ask =
            MatchAsk { items: vec![town], goal: Some(goal), fewer_changes: None, only: None, shows: None };
        let prepared = desk::prepare(plan, &ask, &PictureBank::new(), &pictures, &|_| true).unwrap();
        desk::run(&prepared, &mut |_| colour::Flow::Go).unwrap()
    };
    let (exact, seen) = (run(MatchGoal::Exact), run(MatchGoal::Seen));
    assert_eq!(exact.proof.bound, seen.proof.bound);
    assert!(seen.proof.objective > seen.proof.bound);
    assert!(seen.measures[0].difference > exact.measures[0].difference);
    assert!(seen.measures[0].difference_seen < exact.measures[0].difference_seen);
}

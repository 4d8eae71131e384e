//! Some cells matched again: all others stay, what is there suffices, and nothing better was to be had.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::sync::Arc;

use colour::{Flow, Raster, Srgb8, ciede2000_textbook};
use desk::{Author, Desk, DeskError, JobState, MatchAsk, PictureBank, PictureSource, prepare, run};
use geometry::{FallInPicture, Point};
use plan::{
    Body, CellChange, CellMask, Command, Field, FieldFrame, Item, ItemId, KindId, MatchGoal, Picture,
    PictureFit, PictureId, PictureUse, Plan,
};
use units::Length;

fn me() -> Author {
    Author("Ines".into())
}

fn matched(desk: &Arc<Desk>, ask: MatchAsk, lay: bool) -> JobState {
    let id = desk.start_match(&me(), ask, lay).unwrap();
    loop {
        let state = desk.job(id).unwrap();
        if state.over {
            return state;
        }
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
}

/// The example with Town laid, and Town's id.
fn laid(folder: &tempfile::TempDir) -> (Arc<Desk>, ItemId) {
    let example = desk::example_plan().unwrap();
    let desk = Desk::create(&folder.path().join("event.standfast"), &example.plan).unwrap();
    example.pictures.iter().for_each(|bytes| drop(desk.keep_picture(bytes).unwrap()));
    let town = desk.snapshot().plan.item_by_name("Town").unwrap().id;
    let ask = MatchAsk {
        items: vec![town],
        goal: Some(MatchGoal::Exact),
        fewer_changes: None,
        only: None,
        shows: None,
    };
    assert_eq!(matched(&desk, ask, true).trouble, None);
    (desk, town)
}

fn town(desk: &Desk, id: ItemId) -> Field {
    desk.snapshot().plan.item(id).unwrap().field().unwrap().clone()
}

/// Every cell whose number leaves 0 or 1 when divided by 7.
fn some(len: usize) -> CellMask {
    (0..len).map(|i| i % 7 < 2).collect::<Vec<_>>().into()
}

#[test]
fn cells_that_were_not_chosen_or_set_by_hand_never_change_and_the_stock_suffices() {
    for goal in [MatchGoal::Exact, MatchGoal::Seen] {
        let folder = tempfile::tempdir().unwrap();
        let (desk, id) = laid(&folder);
        let lime = desk.snapshot().plan.stock.colours.iter().find(|c| c.name == "Lime").unwrap().id;
        let only = some(town(&desk, id).cells.len());
        // Spoil what is chosen, so that there is something to mend; the first hundred cells stay spoilt by hand.
        let spoil = |by_hand: fn(u32) -> bool| {
            let at = only.as_slice().iter().zip(0_u32..).filter(|(chosen, _)| **chosen).map(|(_, i)| i);
            let cells =
                at.map(|index| CellChange { index, colour: lime.0, by_hand: by_hand(index) }).collect();
            desk.apply(&me(), "Spoil", Command::Paint { id, cells }).unwrap();
        };
        spoil(|i| i < 100);
        // What is not chosen lies the wrong way round, as no match would leave it: the same pieces, none set by hand.
        let now = town(&desk, id).cells;
        let others: Vec<usize> = (0..now.len()).filter(|&i| !only.as_slice()[i]).collect();
        let turned = others.iter().zip(others.iter().rev());
        let cells = turned.map(|(&i, &from)| CellChange {
            index: i as u32,
            colour: now.as_slice()[from],
            by_hand: false,
        });
        desk.apply(&me(), "Turn the others", Command::Paint { id, cells: cells.collect() }).unwrap();
        let before = town(&desk, id);
        let ask = MatchAsk {
            items: vec![id],
            goal: Some(goal),
            fewer_changes: Some(1.0),
            only: Some(only.clone()),
            shows: None,
        };
        let state = matched(&desk, ask, true);
        assert_eq!(state.trouble, None);
        let outcome = desk.variant(state.variant.unwrap()).unwrap().outcome;
        let after = town(&desk, id);
        assert_eq!(outcome.cells, [(id, after.cells.clone())], "what was shown is what was laid");
        let mut changed = 0;
        for (i, (new, old)) in after.cells.as_slice().iter().zip(before.cells.as_slice()).enumerate() {
            let free = only.as_slice()[i] && !before.by_hand.as_slice()[i];
            assert!(free || new == old, "cell {i} went from {old} to {new}");
            changed += usize::from(new != old);
        }
        assert!(changed > only.count() / 2, "{changed} of {} cells were mended", only.count());
        assert_eq!(after.by_hand, before.by_hand);
        let plan = desk.snapshot().plan.clone();
        for need in after.needs() {
            assert!(u64::from(need.count) <= plan.stock.usable(need.kind, need.colour), "{need:?}");
        }
        let label = desk.snapshot().undo.clone().unwrap().to_string();
        assert_eq!(label, format!("Match {} cells of Town again", sayings::grouped(only.count() as u64)));
        desk.submit(&me(), desk::Request::Undo).unwrap();
        assert_eq!(town(&desk, id), before);
    }
}

#[test]
fn what_others_drew_meanwhile_stays_when_the_chosen_cells_are_laid() {
    let folder = tempfile::tempdir().unwrap();
    let (desk, id) = laid(&folder);
    let only = some(town(&desk, id).cells.len());
    let ask =
        MatchAsk { items: vec![id], goal: None, fewer_changes: None, only: Some(only.clone()), shows: None };
    let state = matched(&desk, ask, false);
    let outside = only.as_slice().iter().position(|chosen| !chosen).unwrap() as u32;
    let cells = vec![CellChange { index: outside, colour: plan::EMPTY, by_hand: true }];
    desk.apply(&me(), "Take a piece", Command::Paint { id, cells }).unwrap();
    desk.use_variant(&me(), state.variant.unwrap()).unwrap();
    assert_eq!(town(&desk, id).cells.as_slice()[outside as usize], plan::EMPTY);
}

#[test]
fn a_colour_that_the_others_overdraw_is_left_out_and_does_not_stop_the_match() {
    let folder = tempfile::tempdir().unwrap();
    let (desk, id) = laid(&folder);
    let lime = desk.snapshot().plan.stock.colours.iter().find(|c| c.name == "Lime").unwrap().id;
    // More lime than there is, all of it outside of what is chosen.
    let len = town(&desk, id).cells.len();
    let cells =
        (0..len as u32 - 500).map(|index| CellChange { index, colour: lime.0, by_hand: false }).collect();
    desk.apply(&me(), "Too much lime", Command::Paint { id, cells }).unwrap();
    let only: CellMask = (0..len).map(|i| i >= len - 500).collect::<Vec<_>>().into();
    let ask = MatchAsk {
        items: vec![id],
        goal: Some(MatchGoal::Exact),
        fewer_changes: None,
        only: Some(only),
        shows: None,
    };
    assert_eq!(matched(&desk, ask, true).trouble, None);
    let after = town(&desk, id);
    assert!(after.cells.as_slice()[..len - 500].iter().all(|&c| c == lime.0));
    assert!(after.cells.as_slice()[len - 500..].iter().all(|&c| c != lime.0));
}

#[test]
fn a_choice_that_cannot_be_matched_says_why() {
    let folder = tempfile::tempdir().unwrap();
    let (desk, id) = laid(&folder);
    let len = town(&desk, id).cells.len();
    let said = |items: Vec<ItemId>, only: CellMask| {
        let ask = MatchAsk { items, goal: None, fewer_changes: None, only: Some(only), shows: None };
        matched(&desk, ask, true).trouble.unwrap().1.to_string()
    };
    let other = desk.snapshot().plan.item_by_name("Mill").unwrap().id;
    assert!(said(vec![id], CellMask::none(len)).starts_with("None of the chosen cells of Town is free"));
    assert!(said(vec![id], CellMask::none(7)).contains("the choice was made among 7"));
    assert!(said(vec![id, other], some(len)).contains("more than one field"));
}

/// Six wanted colours and three colours of pieces, of our own making.
const WANTED: [u32; 12] = [
    0xd8c38a, 0x24407a, 0x2b2b30, 0x808080, 0xa0b0d0, 0x503020, 0x24407a, 0xd8c38a, 0x808080, 0xa0b0d0,
    0x503020, 0x2b2b30,
];
const PIECES: [u32; 3] = [0x24407a, 0xd8c38a, 0x2b2b30];
const OWNED: [u64; 3] = [5, 4, 3];

struct One(Vec<u8>);

impl PictureSource for One {
    fn picture_bytes(&self, _: &str) -> Result<Vec<u8>, DeskError> {
        Ok(self.0.clone())
    }
}

fn rgb(hex: u32) -> Srgb8 {
    Srgb8 { r: (hex >> 16) as u8, g: (hex >> 8) as u8, b: hex as u8 }
}

/// One lane of twelve pieces whose cells are exactly the pixels of the picture.
fn small() -> (Plan, One) {
    let mut plan = Plan::new("Small");
    let rows = ["Blue,B", "Sand,S", "Slate,K"].iter().zip(PIECES).zip(OWNED);
    let list = rows.map(|((name, hex), n)| format!("{name},#{hex:06x},{n}\n")).collect::<String>();
    let read = exchange::read_stock(format!("name,code,hex,count\n{list}").as_bytes(), "stock.csv").unwrap();
    plan.stock = exchange::to_stock(&read, None);
    plan.pictures.push(Picture {
        id: PictureId(50),
        name: "p.png".into(),
        sha256: "0".repeat(64),
        width: 12,
        height: 1,
    });
    let frame = FieldFrame {
        fall: FallInPicture::Right,
        ..FieldFrame::new(1, 12, Length::mm(25.0), Length::mm(25.0))
    };
    let mut field = Field::empty(plan.stock.kinds.first().map_or(KindId(1), |k| k.id), frame);
    field.picture =
        Some(PictureUse { picture: PictureId(50), crop: None, fit: PictureFit::Fill, contrast: 0.0 });
    // As laid it is as wrong as the stock allows: the colours in turn, then what is left.
    let ids: Vec<u16> = plan.stock.colours.iter().map(|c| c.id.0).collect();
    field.cells = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 0].map(|k: usize| ids[k]).to_vec().into();
    plan.items.push(Item::new(ItemId(60), "Strip", Point::new(0.0, 0.0), Body::Field(field)));
    let rgba = WANTED.iter().flat_map(|&hex| [(hex >> 16) as u8, (hex >> 8) as u8, hex as u8, 255]).collect();
    (plan, One(colour::to_png(&Raster { width: 12, height: 1, rgba }).unwrap()))
}

/// The least sum of differences over all ways to share out what is left, by trying every one.
fn least(cells: &[usize], left: &mut [u64; 3]) -> i64 {
    let Some((&cell, rest)) = cells.split_first() else { return 0 };
    let mut best = i64::MAX;
    for k in 0..3 {
        if left[k] > 0 {
            left[k] -= 1;
            best = best.min(cost(cell, k).saturating_add(least(rest, left)));
            left[k] += 1;
        }
    }
    best
}

/// CIEDE2000 x 1000 by the published formula.
fn cost(cell: usize, k: usize) -> i64 {
    (1_000.0 * ciede2000_textbook(rgb(WANTED[cell]).to_lab(), rgb(PIECES[k]).to_lab())).round() as i64
}

#[test]
fn the_chosen_cells_are_as_right_as_trying_everything_makes_them() {
    let (plan, source) = small();
    let field = plan.items[0].field().unwrap();
    let colour = |id: u16| plan.stock.colours.iter().position(|c| c.id.0 == id).unwrap();
    for chosen in
        [&[0, 1, 2][..], &[3, 5, 9, 11], &[0, 2, 4, 6, 8, 10, 11], &[7], &[0, 1, 2, 3, 4, 5, 6, 7, 8, 9]]
    {
        let only: CellMask = (0..12).map(|i| chosen.contains(&i)).collect::<Vec<_>>().into();
        let items = vec![ItemId(60)];
        let ask = MatchAsk {
            items,
            goal: Some(MatchGoal::Exact),
            fewer_changes: None,
            only: Some(only),
            shows: None,
        };
        let prepared = prepare(&plan, &ask, &PictureBank::new(), &source, &|_| true).unwrap();
        let outcome = run(&prepared, &mut |_| Flow::Go).unwrap();
        let cells = outcome.cells[0].1.as_slice();
        let mut left = OWNED;
        for i in (0..12).filter(|i| !chosen.contains(i)) {
            assert_eq!(cells[i], field.cells.as_slice()[i], "cell {i} was not chosen");
            left[colour(cells[i])] -= 1;
        }
        let sum: i64 = chosen.iter().map(|&i| cost(i, colour(cells[i]))).sum();
        assert_eq!(sum, least(chosen, &mut left), "{chosen:?}");
    }
}

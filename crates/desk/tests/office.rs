//! Changes at the desk: on disk before they are acknowledged, undone after a restart, in order for all.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::sync::{Arc, Mutex};

use desk::{Author, Desk, DeskError, JobId, MatchAsk, News, PictureSource as _, Request, StepList};
use plan::{CellChange, Command, ItemId, MatchGoal, Plan};
use sayings::{doing, say};

fn me() -> Author {
    Author("Ines".into())
}

fn example(folder: &tempfile::TempDir) -> Arc<Desk> {
    let example = desk::example_plan().unwrap();
    let desk = Desk::create(&folder.path().join("event.standfast"), &example.plan).unwrap();
    for bytes in &example.pictures {
        desk.keep_picture(bytes).unwrap();
    }
    desk
}

fn town(plan: &Plan) -> ItemId {
    plan.item_by_name("Town").unwrap().id
}

fn rename(name: &str) -> Request {
    let name = name.to_owned();
    Request::Change(Box::new(move |_| Ok((format!("Name it {name}").into(), Command::Rename { name }))))
}

fn wait(desk: &Desk, job: JobId) -> desk::JobState {
    loop {
        let state = desk.job(job).unwrap();
        if state.over {
            return state;
        }
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
}

#[test]
fn undo_and_redo_reach_both_ends_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("event.standfast");
    let desk = Desk::create(&path, &Plan::new("one")).unwrap();
    for name in ["two", "three"] {
        desk.submit(&me(), rename(name)).unwrap();
    }
    desk.close().unwrap();
    let desk = Desk::open(&path).unwrap();
    let snapshot = desk.snapshot();
    assert_eq!((snapshot.plan.name.as_str(), snapshot.change), ("three", 2));
    assert_eq!(snapshot.undo.as_ref().map(desk::Label::words), Some("Name it three"));
    desk.submit(&me(), Request::Undo).unwrap();
    desk.submit(&me(), Request::Undo).unwrap();
    assert_eq!(desk.snapshot().plan.name, "one");
    assert!(matches!(desk.submit(&me(), Request::Undo), Err(DeskError::NothingTo(desk::Back::Undo))));
    desk.submit(&me(), Request::Redo).unwrap();
    let last = desk.submit(&me(), Request::Redo).unwrap();
    assert_eq!((desk.snapshot().plan.name.as_str(), last.change), ("three", 6));
    assert!(matches!(desk.submit(&me(), Request::Redo), Err(DeskError::NothingTo(desk::Back::Redo))));
}

#[test]
fn fifty_at_once_are_all_kept_once_in_order_and_no_id_is_given_twice() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let heard = Arc::new(Mutex::new(Vec::new()));
    let ear = Arc::clone(&heard);
    desk.listen(move |news| {
        if let News::Changed(receipt) = news {
            ear.lock().unwrap().push(receipt.change);
        }
    });
    let threads: Vec<_> = (0..50)
        .map(|i| {
            let desk = Arc::clone(&desk);
            std::thread::spawn(move || {
                let draft = move |plan: &Plan| {
                    let mut copy = plan.item_by_name("Mill").unwrap().clone();
                    copy.id = ItemId(plan.fresh_id());
                    copy.name = format!("Grist {i}");
                    Ok(("Add a mill".into(), Command::PutItem { item: Box::new(copy) }))
                };
                desk.submit(&me(), Request::Change(Box::new(draft))).unwrap()
            })
        })
        .collect();
    let mut receipts: Vec<_> = threads.into_iter().map(|t| t.join().unwrap()).collect();
    receipts.sort_by_key(|r| r.change);
    assert_eq!(receipts.iter().map(|r| r.change).collect::<Vec<_>>(), (1..=50).collect::<Vec<u64>>());
    let mut ids: Vec<_> = receipts.iter().map(|r| r.added.unwrap()).collect();
    ids.dedup();
    assert_eq!(ids.len(), 50);
    assert_eq!(*heard.lock().unwrap(), (1..=50).collect::<Vec<u64>>());
    let names = desk.snapshot().plan.items.iter().filter(|i| i.name.starts_with("Grist ")).count();
    assert_eq!(names, 50);
}

#[test]
fn a_refused_change_leaves_the_plan_and_says_where() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let before = desk.snapshot().plan.clone();
    let id = town(&before);
    let cells = vec![CellChange { index: 9_999_999, colour: 0, by_hand: true }];
    let error = desk.apply(&me(), "Paint", Command::Paint { id, cells }).unwrap_err();
    let said = error.to_string();
    assert!(said.contains("Town") && said.contains("9\u{a0}999\u{a0}999"), "{said}");
    assert_eq!(*desk.snapshot().plan, *before);
    assert_eq!(desk.snapshot().change, 0);
}

#[test]
fn cells_set_by_hand_survive_a_new_match_and_count_against_the_stock() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let plan = desk.snapshot().plan.clone();
    let id = town(&plan);
    let cream = plan.stock.colours.iter().find(|c| c.name == "Cream").unwrap();
    let cells: Vec<_> =
        (0..200).map(|index| CellChange { index, colour: cream.id.0, by_hand: true }).collect();
    desk.apply(&me(), "Paint Town", Command::Paint { id, cells }).unwrap();
    let ask = MatchAsk {
        items: vec![id],
        goal: Some(MatchGoal::Seen),
        fewer_changes: Some(2.0),
        only: None,
        shows: None,
    };
    let job = desk.start_match(&me(), ask, true).unwrap();
    let state = wait(&desk, job);
    assert_eq!(state.trouble, None);
    let plan = desk.snapshot().plan.clone();
    let field = plan.item(id).unwrap().field().unwrap();
    assert!(field.cells.as_slice()[..200].iter().all(|&c| c == cream.id.0));
    assert_eq!(field.by_hand.count(), 200);
    assert_eq!(field.cells.pieces(), field.cells.len());
    let used = field.needs().iter().find(|n| n.colour == cream.id).unwrap().count;
    assert!(u64::from(used) <= plan.stock.usable(field.kind, cream.id));
}

#[test]
fn too_many_cells_set_by_hand_are_refused_with_the_name_of_their_colour() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let plan = desk.snapshot().plan.clone();
    let id = town(&plan);
    let lime = plan.stock.colours.iter().find(|c| c.name == "Lime").unwrap();
    let cells: Vec<_> =
        (0..6000).map(|index| CellChange { index, colour: lime.id.0, by_hand: true }).collect();
    desk.apply(&me(), "Paint Town", Command::Paint { id, cells }).unwrap();
    let ask = MatchAsk {
        items: vec![id],
        goal: Some(MatchGoal::Exact),
        fewer_changes: None,
        only: None,
        shows: None,
    };
    let state = wait(&desk, desk.start_match(&me(), ask, true).unwrap());
    let (_, said) = state.trouble.unwrap();
    assert!(said.to_string().starts_with("Lime (L) is set by hand in 6\u{a0}000 cells"), "{said}");
}

#[test]
fn a_stopped_match_changes_nothing_and_keeps_the_best_so_far() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let items: Vec<_> =
        desk.snapshot().plan.items.iter().filter(|i| i.field().is_some()).map(|i| i.id).collect();
    let ask = MatchAsk { items, goal: Some(MatchGoal::Seen), fewer_changes: None, only: None, shows: None };
    let job = desk.start_match(&me(), ask, true).unwrap();
    // Stopped once the search has begun, so that there is something to keep.
    while desk.job(job).unwrap().stage != "search" && !desk.job(job).unwrap().over {
        std::thread::yield_now();
    }
    desk.stop_job(job);
    let state = wait(&desk, job);
    assert!(state.stopped);
    assert_eq!(desk.snapshot().change, 0, "a stopped match is not laid");
    let variant = desk.variant(state.variant.unwrap()).unwrap();
    assert!(variant.outcome.stopped && !variant.laid);
    desk.use_variant(&me(), variant.id).unwrap();
    assert_eq!(desk.snapshot().change, 1);
    assert!(desk.variant(variant.id).unwrap().laid);
}

#[test]
fn measures_follow_the_plan() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let id = town(&desk.snapshot().plan);
    let measure = |desk: &Desk| *desk.measures().unwrap().iter().find(|m| m.item == id).unwrap();
    let before = measure(&desk);
    assert_eq!(before.pieces, 72 * 90);
    let cells = (0..90).map(|index| CellChange { index, colour: 0, by_hand: true }).collect();
    desk.apply(&me(), "Empty a lane", Command::Paint { id, cells }).unwrap();
    let after = measure(&desk);
    assert_eq!(after.pieces, 71 * 90);
    assert!(after.runs < before.runs && after.hours.low < before.hours.low);
    desk.submit(&me(), Request::Undo).unwrap();
    assert_eq!(measure(&desk), before);
}

#[test]
fn a_picture_that_is_none_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let error = desk.add_picture(&me(), "notes.txt", b"no picture at all").unwrap_err().to_string();
    assert!(error.starts_with("notes.txt: "), "{error}");
    let bytes = include_bytes!("../../../examples/spring-to-sea/town.png");
    let added = desk.add_picture(&me(), "C:\\photos\\dusk.png", bytes).unwrap();
    assert_eq!((added.width, added.height), (960, 720));
    assert_eq!(desk.snapshot().plan.picture(added.picture).unwrap().name, "dusk.png");
}

/// Labels with the ways to them: undo and redo steps.
fn ways(desk: &Desk, list: StepList) -> Vec<(u64, String, Option<usize>, Option<usize>)> {
    let steps = desk.steps(list, 0, 100).unwrap();
    assert_eq!(steps.all, steps.rows.len() as u64);
    steps.rows.into_iter().map(|r| (r.change, r.label.to_string(), r.undo, r.redo)).collect()
}

#[test]
fn the_list_of_steps_says_how_far_each_lies_and_that_many_undos_lead_there() {
    let folder = tempfile::tempdir().unwrap();
    let desk = Desk::create(&folder.path().join("event.standfast"), &Plan::new("zero")).unwrap();
    for name in ["one", "two", "three", "four"] {
        desk.submit(&me(), rename(name)).unwrap();
    }
    for request in [Request::Undo, Request::Undo, Request::Undo, Request::Redo] {
        desk.submit(&me(), request).unwrap();
    }
    // Four changes, three taken back, one made again: "two" stands last, as change 8.
    let name = |n: &str| format!("Name it {n}");
    assert_eq!(
        ways(&desk, StepList::Course),
        [
            (5, name("four"), None, Some(2)),
            (6, name("three"), None, Some(1)),
            (8, name("two"), Some(0), None),
            (1, name("one"), Some(1), None),
        ]
    );
    let all = ways(&desk, StepList::Journal);
    assert_eq!(all.iter().map(|r| r.0).collect::<Vec<_>>(), [8, 7, 6, 5, 4, 3, 2, 1]);
    assert_eq!(all[0], (8, name("two"), Some(0), None));
    assert_eq!(all[1], (7, name("two"), None, None), "what was made again is no longer there to be");
    assert_eq!(all[2], (6, name("three"), None, Some(1)));
    assert_eq!(all[4], (4, name("four"), None, None));
    assert_eq!(all[7], (1, name("one"), Some(1), None));
    let steps = desk.steps(StepList::Journal, 2, 3).unwrap();
    assert_eq!(steps.rows.iter().map(|r| r.change).collect::<Vec<_>>(), [6, 5, 4]);
    assert_eq!((steps.all, steps.undo, steps.redo), (8, 2, 2));
    assert_eq!(steps.rows[0].verb, desk::Verb::Undo);
    assert_eq!(steps.rows[0].who, "Ines");
    assert!(desk.steps(StepList::Journal, 8, 3).unwrap().rows.is_empty());
    assert!(desk.steps(StepList::Course, 4, 3).unwrap().rows.is_empty());
    // The figures hold: one undo leads to "one", then three redos to the end.
    desk.submit(&me(), Request::Undo).unwrap();
    assert_eq!(desk.snapshot().plan.name, "one");
    assert_eq!(ways(&desk, StepList::Course)[0], (5, name("four"), None, Some(3)));
    for _ in 0..3 {
        desk.submit(&me(), Request::Redo).unwrap();
    }
    assert_eq!(desk.snapshot().plan.name, "four");
}

#[test]
fn what_a_step_is_called_can_be_said_in_other_languages_after_undo_and_after_opening_again() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("event.standfast");
    let desk = Desk::create(&file, &Plan::new("zero")).unwrap();
    let (plan, label) = (Command::Rename { name: "one".into() }, say!(doing::RENAME, name = "one"));
    let asked = desk::Label::from(label);
    assert_eq!(desk.apply(&me(), asked.clone(), plan).unwrap().label, asked);
    assert_eq!(desk.submit(&me(), Request::Undo).unwrap().label, asked);
    desk.close().unwrap();
    let desk = Desk::open(&file).unwrap();
    assert_eq!(desk.snapshot().redo.as_ref(), Some(&asked));
    assert_eq!(asked, "Name the event one");
    assert!(asked.said().unwrap().contains("doing.rename"), "{asked:?}");
    let rows = desk.steps(StepList::Journal, 0, 9).unwrap().rows;
    assert!(rows.len() == 2 && rows.iter().all(|row| row.label == asked), "{rows:?}");
}

#[test]
fn the_example_opens_as_one_step_in_a_plan_without_items_and_goes_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut before = Plan::new("Mine");
    before.apply(&Command::PutKind { kind: plan::Kind::usual(plan::KindId(1)) }).unwrap();
    let desk = Desk::create(&folder.path().join("event.standfast"), &before).unwrap();
    let open = || {
        desk.keep_example_pictures()?;
        desk.submit(&me(), Request::Change(Box::new(desk::example_step)))
    };
    let receipt = open().unwrap();
    assert_eq!(receipt.change, 1);
    let wanted = desk::example_plan().unwrap();
    assert_eq!(*desk.snapshot().plan, wanted.plan);
    for (picture, bytes) in wanted.plan.pictures.iter().zip(&wanted.pictures) {
        assert_eq!(desk.picture_bytes(&picture.sha256).unwrap(), *bytes, "{}", picture.name);
    }
    let refused = open().unwrap_err();
    assert!(refused.to_string().contains("items"), "{refused}");
    desk.submit(&me(), Request::Undo).unwrap();
    assert_eq!(*desk.snapshot().plan, before);
    desk.submit(&me(), Request::Redo).unwrap();
    assert_eq!(*desk.snapshot().plan, wanted.plan);
}

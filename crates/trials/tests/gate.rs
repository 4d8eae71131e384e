//! The counts of every trial that each change of the project must pass.

#![allow(clippy::unwrap_used, reason = "a trial that cannot set up its files fails")]

use std::path::Path;

use trials::{Images, WRONG_FILES, each};

fn writer() -> &'static Path {
    Path::new(env!("CARGO_BIN_EXE_soak"))
}

#[test]
fn nothing_acknowledged_is_lost_in_100_kills() {
    each("kills", 0..4, |seed| trials::kill_writer(writer(), seed, 25));
}

#[test]
fn nothing_but_what_was_to_go_is_lost_in_60_kills_while_a_history_is_shortened() {
    each("kills-forgetting", 0..3, |seed| trials::kill_forgetter(writer(), seed, 20));
}

#[test]
fn nothing_acknowledged_is_lost_in_200_power_cuts() {
    each("power-cuts", 0..200, trials::power_cut);
}

#[test]
fn a_cut_at_every_ordering_call_leaves_the_old_or_the_new_file_whole() {
    each("cuts-in-steps", 0..1, |seed| {
        let cuts = trials::cuts_in_steps(seed, 4)?;
        if cuts < 100 { Err(format!("there were only {cuts} cuts")) } else { Ok(()) }
    });
}

#[test]
fn a_failing_call_is_said_and_the_next_try_works() {
    each("failing-calls", 0..200, trials::failing_call);
}

#[test]
fn a_full_disk_is_said_and_with_room_it_goes_on() {
    each("full-disks", 0..25, trials::disk_full);
    each("full-files", 0..25, trials::file_full);
}

#[test]
fn of_1000_damages_each_that_loses_a_change_is_said() {
    let images = Images::make(1).unwrap();
    each("damages", 0..1000, |seed| trials::damaged_bytes(&images, seed));
}

#[test]
fn sixty_wrong_files_are_refused_and_left_as_they_are() {
    each("wrong-files", 0..WRONG_FILES, trials::wrong_file);
}

#[test]
fn copies_of_a_project_in_use_are_refused_or_marked() {
    each("copies", 0..20, |seed| trials::copies_in_use(writer(), seed));
}

#[test]
fn backups_under_load_are_equal_by_hash() {
    each("backups", 0..20, trials::backups_under_load);
}

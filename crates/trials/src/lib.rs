//! Trials: what the project file must survive, tried out on simulated and real disks.
//!
//! A [`SimDisk`] keeps what was synchronised; of the rest a simulated power cut keeps a random part, sector by sector.
//! It can also fail the n-th call, once or for ever, and it can be full. Every trial is driven by a seed, compares
//! the project with a model that only applies commands, and names the seed when it fails.
//!
//! The promises that are tried (N1 to N4):
//! every acknowledged change is there, once, in order; every other change is there whole or not at all;
//! replay, stored plan, undo and redo agree; and what the disk itself has lost is said.

mod copies;
mod cuts;
mod damage;
mod faults;
pub mod fuzzing;
pub mod gates;
mod judge;
mod kills;
pub mod memory;
mod model;
mod platter;
mod rng;
mod sim;
mod vfs;
mod wrong;

pub use copies::{backups_under_load, copies_in_use};
pub use cuts::{cuts_in_steps, power_cut};
pub use damage::{Images, damaged_bytes};
pub use faults::{disk_full, failing_call, file_full};
pub use kills::{FORGET, WRITE, Writer, forget, kill_forgetter, kill_writer, write};
pub use model::{Course, Model, NOW, start};
pub use platter::{Fault, Trouble};
pub use rng::Rng;
pub use sim::SimDisk;
pub use wrong::{WRONG_FILES, wrong_file};

/// Why a trial failed, with what it was about.
pub type Failed = String;

/// Runs a trial for each seed and stops at the first that fails or panics, naming it.
///
/// # Panics
/// With the name of the trial, the seed and what was wrong: that line is all that is needed to run it again.
pub fn each(name: &str, seeds: impl IntoIterator<Item = u64>, trial: impl Fn(u64) -> Result<(), Failed>) {
    for seed in seeds {
        let outcome = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| trial(seed)));
        match outcome {
            Ok(Ok(())) => {}
            Ok(Err(why)) => panic!("soak --trial {name} --seed {seed} --count 1: {why}"),
            Err(_) => panic!("soak --trial {name} --seed {seed} --count 1: it panicked, see above"),
        }
    }
}

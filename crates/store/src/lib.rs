//! The project file: one SQLite file that holds a plan, its whole history and its pictures.
//!
//! Every change is a journal entry, written with full synchronisation before it is acknowledged.
//! Undo and redo are entries of their own, so that both survive a restart to both ends.
//! Each entry carries the hash of the one before it, and the last acknowledged number is also kept beside the file:
//! what a disk loses or damages is said, never swallowed.
//!
//! The crate reads no clock: times are arguments. All file calls go through one [`Disk`], so that tests can
//! put a simulated one beneath it. While a project is open, nothing in this process touches its file by
//! ordinary file calls, since closing any other handle of the file would drop the lock on it.

mod chain;
mod copy;
mod create;
mod disk;
mod error;
mod forget;
mod journal;
mod load;
mod migrate;
mod note;
mod once;
mod open;
mod probe;
mod promise;
mod registry;
mod schema;
mod session;
mod snapshot;
mod store;

pub use chain::sha256_hex;
pub use copy::Report;
pub use disk::{Disk, Look, OsDisk, Sort};
pub use error::StoreError;
pub use forget::Weight;
pub use journal::{Act, Committed, HistoryEntry, Made, MadeEntry, NewEntry, Receipt, Step, Verb};
pub use note::OpenNote;
pub use once::{KnownKeys, OnceKey};
pub use open::{Opened, Options};
pub use promise::promise_path;
pub use schema::{APPLICATION_ID, FORMAT};
pub use store::{MAX_ENTRY, MAX_PICTURE, Store};

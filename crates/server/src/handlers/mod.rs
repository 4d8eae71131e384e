//! One handler for each route, by what it is about.

pub(crate) mod hall;
pub(crate) mod lan;
pub(crate) mod matching;
pub(crate) mod pictures;
pub(crate) mod plan;
pub(crate) mod printing;
pub(crate) mod reading;
pub(crate) mod section;
pub(crate) mod trial;

use ::plan::{Field, Item, ItemId, Plan};

use crate::answer::Refusal;
use crate::convert;

/// The field with this id, or why there is none.
fn field(plan: &Plan, id: u32) -> Result<(&Item, &Field), Refusal> {
    convert::change::known_field(plan, ItemId(id)).map_err(convert::refusal)
}

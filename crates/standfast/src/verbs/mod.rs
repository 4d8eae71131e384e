//! One file for each verb.

pub(crate) mod backup;
pub(crate) mod build;
pub(crate) mod check;
pub(crate) mod export;
pub(crate) mod fall;
pub(crate) mod feed;
pub(crate) mod manual;
pub(crate) mod matching;
pub(crate) mod new;
pub(crate) mod open;
pub(crate) mod picture;
pub(crate) mod sheets;
pub(crate) mod shift;
pub(crate) mod stock;

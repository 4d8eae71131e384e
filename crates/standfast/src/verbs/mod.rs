//! One file for each verb.

pub mod backup;
pub mod check;
pub mod export;
pub mod manual;
pub mod matching;
pub mod new;
pub mod open;
pub mod picture;
pub mod sheets;
pub mod stock;

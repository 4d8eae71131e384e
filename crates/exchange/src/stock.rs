//! The stock list: a CSV file with one lot a row, read leniently and written strictly.
//!
//! Columns, in any order and case: `name`, `code`, `hex`, `count`; and, where wanted, `kind`, `back_hex`,
//! `edge_hex`, `finish`, `batch`, `owner`, `offered`, `crate_size`, `mass_g`, `thickness_mm`, `spare`,
//! `colour_id`, `lot_id`. Several rows with the same name, code and hex are several lots of one colour.
//! An empty `count` means that the colour is known but no lot of it is there.
//! Lines that start with `#` are comments.

mod build;
mod codes;
mod csv;
mod decode;
mod number;
mod read;
mod same;
mod write;

pub(crate) use read::shown;

pub use build::to_stock;
pub use codes::propose_code;
pub use read::{
    LineProblem, MAX_LIST_BYTES, MAX_LIST_ROWS, StockListError, StockRead, StockRow, Words, read_stock,
};
pub use write::write_stock;

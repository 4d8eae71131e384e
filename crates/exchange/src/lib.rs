//! Exchange: stock lists as CSV and the text plan, from text to the plan's own types and back.
//!
//! Nothing here reads or writes files: text and bytes come in, text goes out.

mod stock;
mod text_plan;

pub use stock::{
    LineProblem, MAX_LIST_BYTES, MAX_LIST_ROWS, StockListError, StockRead, StockRow, Words, propose_code,
    read_stock, to_stock, write_stock,
};
pub use text_plan::{
    MAX_TEXT_BYTES, PictureFacts, TextPlan, TextPlanError, TextProblem, read_angle, read_length,
    read_text_plan, write_text_plan,
};

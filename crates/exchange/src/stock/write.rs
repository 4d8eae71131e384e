//! Writes a stock as a list that reads back as the same stock.

use std::fmt::Write;

use plan::{Colour, Finish, Kind, Lot, Stock};

use super::build::to_stock;
use super::csv::write_text;
use super::read::read_stock;

const PLAIN: &str = "name,code,hex,count,kind,back_hex,edge_hex,finish,batch,owner,offered,crate_size,mass_g,thickness_mm,spare";

/// The stock as a list: one row a lot, one with an empty count for each colour without lots.
///
/// Kinds and gear are not part of a list; reading it with a stock that has them brings all back.
/// The columns `colour_id` and `lot_id` are only written where the order of the rows does not give the same ids.
pub fn write_stock(stock: &Stock) -> String {
    let short = list(stock, false);
    let frame = Stock { kinds: stock.kinds.clone(), gear: stock.gear.clone(), ..Stock::default() };
    let same = read_stock(short.as_bytes(), "").is_ok_and(|read| to_stock(&read, Some(&frame)) == *stock);
    if same { short } else { list(stock, true) }
}

fn list(stock: &Stock, ids: bool) -> String {
    let mut text = format!("{PLAIN}{}\n", if ids { ",colour_id,lot_id" } else { "" });
    for colour in &stock.colours {
        let mut any = false;
        for lot in stock.lots.iter().filter(|l| l.colour == colour.id) {
            any = true;
            row(&mut text, stock, colour, Some(lot), ids);
        }
        if !any {
            row(&mut text, stock, colour, None, ids);
        }
    }
    text
}

fn row(text: &mut String, stock: &Stock, colour: &Colour, lot: Option<&Lot>, ids: bool) {
    let face = |c: plan::Rgb| if c == colour.front { String::new() } else { c.to_string() };
    let number = |v: Option<f64>| v.map_or(String::new(), |v| v.to_string());
    let whole = |v: Option<u32>| v.map_or(String::new(), |v| v.to_string());
    let cells = [
        write_text(&colour.name),
        colour.code.clone(),
        colour.front.to_string(),
        whole(lot.map(|l| l.count)),
        lot.map_or(String::new(), |l| kind_name(stock, l)),
        face(colour.back),
        face(colour.edge),
        finish(colour.finish).to_owned(),
        lot.map_or(String::new(), |l| write_text(&l.batch)),
        lot.map_or(String::new(), |l| write_text(&l.owner)),
        whole(lot.map(|l| l.offered).filter(|&n| n > 0)),
        whole(lot.and_then(|l| l.crate_size)),
        number(lot.and_then(|l| l.mass).map(units::Mass::to_g)),
        number(lot.and_then(|l| l.thickness).map(units::Length::to_mm)),
        number(lot.map(|l| l.spare).filter(|&s| s > 0.0)),
    ];
    text.push_str(&cells.join(","));
    if ids {
        let _ = write!(text, ",{},{}", colour.id, lot.map_or(String::new(), |l| l.id.to_string()));
    }
    text.push('\n');
}

/// The kind's name, or `#` and its id where the name alone would not find it.
fn kind_name(stock: &Stock, lot: &Lot) -> String {
    let Some(kind) = stock.kind(lot.kind) else { return String::new() };
    let plain = |k: &Kind| !k.name.starts_with('#') && k.name.trim() == k.name;
    let first = stock.kinds.iter().find(|k| k.name == kind.name);
    if first.is_some_and(|k| k.id == kind.id) && plain(kind) {
        write_text(&kind.name)
    } else {
        write_text(&format!("#{}", kind.id))
    }
}

fn finish(finish: Finish) -> &'static str {
    match finish {
        Finish::Matt => "",
        Finish::Gloss => "gloss",
        Finish::Metallic => "metallic",
        Finish::Clear => "clear",
        Finish::Painted => "painted",
    }
}

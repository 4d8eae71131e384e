//! Rows that speak of the same colour must agree; rows of different colours must not share a name or a code.

use std::collections::HashMap;

use super::read::{LineProblem, StockRow, shown};

/// Compares each row with the first one of the same name and the first one of the same code.
pub(super) fn check(rows: &[StockRow], problems: &mut Vec<LineProblem>) {
    // Looked up only, never walked, so the order of the maps does not reach the result.
    let mut by_name: HashMap<&str, &StockRow> = HashMap::new();
    let mut by_code: HashMap<String, &StockRow> = HashMap::new();
    let mut colours = 0;
    for row in rows {
        let Some(code) = &row.code else {
            colours += usize::from(!by_name.contains_key(row.name.as_str()));
            compare(row, by_name.entry(&row.name).or_insert(row), problems);
            continue;
        };
        let of_code = *by_code.entry(plan::look_alike(code)).or_insert(row);
        if of_code.name != row.name {
            problems.push(clash_of_code(row, of_code));
            continue;
        }
        colours += usize::from(!by_name.contains_key(row.name.as_str()));
        compare(row, by_name.entry(&row.name).or_insert(row), problems);
    }
    if colours > plan::MAX_COLOURS {
        problems.push(LineProblem {
            line: 0,
            column: "name".into(),
            value: format!("{colours} colours"),
            problem: format!("are more than the {} that one plan may have", plan::MAX_COLOURS),
            next: "Leave out those that the event does not use".into(),
        });
    }
    lot_ids(rows, problems);
}

fn clash_of_code(row: &StockRow, first: &StockRow) -> LineProblem {
    let (code, other) = (row.code.as_deref().unwrap_or(""), first.code.as_deref().unwrap_or(""));
    let problem = if code == other {
        format!(
            "is the code of \"{}\" here and of \"{}\" on line {}",
            shown(&row.name),
            shown(&first.name),
            first.line
        )
    } else {
        format!("can be taken for \"{other}\" of \"{}\" on line {}", shown(&first.name), first.line)
    };
    let next = "Give each colour a code of its own".into();
    LineProblem { line: row.line, column: "code".into(), value: format!("\"{code}\""), problem, next }
}

fn compare(row: &StockRow, first: &StockRow, problems: &mut Vec<LineProblem>) {
    let none = || "no code".to_owned();
    let parts = [
        ("code", row.code.clone().unwrap_or_else(none), first.code.clone().unwrap_or_else(none)),
        ("hex", row.front.to_string(), first.front.to_string()),
        ("back_hex", row.back.to_string(), first.back.to_string()),
        ("edge_hex", row.edge.to_string(), first.edge.to_string()),
        ("finish", format!("{:?}", row.finish).to_lowercase(), format!("{:?}", first.finish).to_lowercase()),
    ];
    for (column, here, there) in parts.into_iter().filter(|(_, here, there)| here != there) {
        problems.push(LineProblem {
            line: row.line,
            column: column.into(),
            value: format!("\"{here}\""),
            problem: format!(
                "is the {column} of \"{}\" here, but line {} says \"{there}\"",
                shown(&row.name),
                first.line
            ),
            next: "Make both rows the same, or give one another name".into(),
        });
    }
}

fn lot_ids(rows: &[StockRow], problems: &mut Vec<LineProblem>) {
    let mut lots: HashMap<u32, u32> = HashMap::new();
    let mut colours: HashMap<u16, &StockRow> = HashMap::new();
    let mut push = |row: &StockRow, column: &str, id: u32, problem: String| {
        let next = "Leave it empty, and an id will be given".into();
        problems.push(LineProblem {
            line: row.line,
            column: column.into(),
            value: format!("\"{id}\""),
            problem,
            next,
        });
    };
    for row in rows {
        if let Some(id) = row.lot_id {
            let line = *lots.entry(id).or_insert(row.line);
            if line != row.line {
                push(row, "lot_id", id, format!("is the id of the lot on line {line}, too"));
            }
        }
        if let Some(id) = row.colour_id {
            let first = *colours.entry(id).or_insert(row);
            if first.name != row.name {
                push(
                    row,
                    "colour_id",
                    id.into(),
                    format!("is the id of the colour on line {}, too", first.line),
                );
            }
        }
    }
}

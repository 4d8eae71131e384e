//! Rows that speak of the same colour must agree; rows of different colours must not share a name or a code.

use std::collections::HashMap;

use sayings::{Arg, Said, gate, refusing, say};

use super::read::{LineProblem, StockRow, Words, shown};

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
            value: say!(gate::N_COLOURS, n = colours).into(),
            problem: say!(refusing::LIST_COLOURS, most = plan::MAX_COLOURS).into(),
            next: Words::Plain(&refusing::LIST_COLOURS_NEXT),
        });
    }
    lot_ids(rows, problems);
}

fn clash_of_code(row: &StockRow, first: &StockRow) -> LineProblem {
    let (code, other) = (row.code.as_deref().unwrap_or(""), first.code.as_deref().unwrap_or(""));
    let problem = if code == other {
        let (name, other, line) = (shown(&row.name), shown(&first.name), first.line.to_string());
        say!(refusing::LIST_CODE_TWICE, name = name, other = other, line = line)
    } else {
        let (name, line) = (shown(&first.name), first.line.to_string());
        say!(refusing::LIST_CODE_ALIKE, code = other, name = name, line = line)
    };
    let (problem, next) = (problem.into(), Words::Plain(&refusing::LIST_CODE_NEXT));
    LineProblem {
        line: row.line,
        column: "code".into(),
        value: Words::Quoted(code.to_owned()),
        problem,
        next,
    }
}

fn compare(row: &StockRow, first: &StockRow, problems: &mut Vec<LineProblem>) {
    let none = || say!(refusing::LIST_NONE).into();
    let finish = |row: &StockRow| Arg::from(format!("{:?}", row.finish).to_lowercase());
    let parts: [(&str, Arg, Arg); 5] = [
        (
            "code",
            row.code.as_ref().map_or_else(none, Arg::from),
            first.code.as_ref().map_or_else(none, Arg::from),
        ),
        ("hex", row.front.to_string().into(), first.front.to_string().into()),
        ("back_hex", row.back.to_string().into(), first.back.to_string().into()),
        ("edge_hex", row.edge.to_string().into(), first.edge.to_string().into()),
        ("finish", finish(row), finish(first)),
    ];
    for (column, here, there) in parts.into_iter().filter(|(_, here, there)| here != there) {
        problems.push(LineProblem {
            line: row.line,
            column: column.into(),
            value: say!(gate::QUOTED, text = here).into(),
            problem: say!(
                refusing::LIST_DIFFERS,
                column = column,
                name = shown(&row.name),
                line = first.line.to_string(),
                there = there
            )
            .into(),
            next: Words::Plain(&refusing::LIST_DIFFERS_NEXT),
        });
    }
}

fn lot_ids(rows: &[StockRow], problems: &mut Vec<LineProblem>) {
    let mut lots: HashMap<u32, u32> = HashMap::new();
    let mut colours: HashMap<u16, &StockRow> = HashMap::new();
    let mut push = |row: &StockRow, column: &'static str, id: u32, problem: Said| {
        let next = Words::Plain(&refusing::LIST_IDS_NEXT);
        problems.push(LineProblem {
            line: row.line,
            column: column.into(),
            value: Words::Quoted(id.to_string()),
            problem: problem.into(),
            next,
        });
    };
    for row in rows {
        if let Some(id) = row.lot_id {
            let line = *lots.entry(id).or_insert(row.line);
            if line != row.line {
                push(row, "lot_id", id, say!(refusing::LIST_LOT_ID, line = line.to_string()));
            }
        }
        if let Some(id) = row.colour_id {
            let first = *colours.entry(id).or_insert(row);
            if first.name != row.name {
                push(
                    row,
                    "colour_id",
                    id.into(),
                    say!(refusing::LIST_COLOUR_ID, line = first.line.to_string()),
                );
            }
        }
    }
}

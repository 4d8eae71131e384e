//! The gates that the fuzzer knocks at: text plan, stock list, picture, and commands as they stand in the journal.

use std::collections::BTreeMap;

use colour::PictureLimits;
use exchange::PictureFacts;
use plan::{Command, Plan};

use crate::fuzzing::Gate;

/// The line between a text plan and its stock list in one input.
const STOCK: &str = "\n=== stock.csv\n";

/// All gates.
pub const GATES: [Gate; 4] = [
    Gate {
        name: "text-plan",
        words: &[
            b"[[item]]\nis = \"line\"\n",
            b"[[item.leg]]\n",
            b"is = \"fill\"\n",
            b"is = \"feed\"\n",
            b"is = \"start\"\n",
            b"is = \"placeholder\"\n",
            b"from = \"Brook: end\"\n",
            b"to = { item = 7, port = \"end\" }\n",
            b"colours = { spread = \"R3 W4294967295\" }\n",
            b"gaps = [\"1-4294967295 stopper\"]\n",
            b"built = { east = \"4 mm\" }\n",
            b"{ through = [[\"0 mm\", \"1 m\"]] },\n",
            b"turns = 1e308\n",
            b"course = \"in-turn\"\n",
            b"[[hall.part]]\n",
            b"tape = [{ from = \"NW\", to = \"SE\", length = \"1 m\" }]\n",
            b"floor_grip = [0.02, 1.5]\n",
            b"[[surface]]",
            b"[[section]]",
            b"[[picture]]",
            b"[hall]",
            b"id = 1\n",
            b"name = \"\"\n",
            b" mm",
            b" m",
            b"\"\"\"",
            b"= [[",
            b"= {",
            b"\\u0000",
            b"22x3 ",
            b"format = 2\n",
            b"'''",
            b"=== stock.csv\n",
            b"\xff",
            b"1e999",
            b"nan",
        ],
        // A few lines may ask for empty fields of 60 000 000 cells in all, at 3 bytes each; two such plans are held.
        room: (64 << 20) + 2 * 3 * 60_000_000,
        read: text_plan,
    },
    Gate {
        name: "stock-file",
        words: &[
            b"name,code,hex,count\n",
            b";",
            b"\t",
            b"\"",
            b"\"\"",
            b"\r\n",
            b"\xef\xbb\xbf",
            b"#ffffff",
            b"spare",
            b"kind,back_hex,finish,batch,owner,crate_size,mass_g,thickness_mm,spare",
            b"0,5",
            b"-1",
            b"=1+1",
            b"\0",
            b"\xff\xfe",
            b"matt",
            b"99999999999999999999",
        ],
        room: 64 << 20,
        read: stock_file,
    },
    Gate {
        name: "picture",
        words: &[
            b"\x89PNG\r\n\x1a\n",
            b"IHDR",
            b"IDAT",
            b"tEXt",
            b"zTXt",
            b"iCCP",
            b"acTL",
            b"fdAT",
            b"eXIf",
            b"\xff\xd8",
            b"\xff\xe1",
            b"Exif\0\0",
            b"\xff\xc0",
            b"\xff\xc4",
            b"\xff\xda",
            b"\xff\xd9",
            b"RIFF",
            b"WEBP",
            b"VP8 ",
            b"VP8L",
            b"VP8X",
            b"ALPH",
            b"ANMF",
            b"II*\0",
            b"MM\0*",
            b"\x7f\xff\xff\xff",
            b"\xff\xff\xff\xff",
        ],
        room: 64 << 20,
        read: picture,
    },
    Gate {
        name: "commands",
        words: &[
            b"{\"do\":\"paint\",\"id\":10,\"cells\":[{\"index\":0,\"colour\":2,\"by_hand\":true}]}\n",
            b"{\"do\":\"remove-item\",\"id\":10}\n",
            b"{\"do\":\"together\",\"steps\":[",
            b"\"20000000x1\"",
            b"\"18446744073709551615x1\"",
            b"4294967295",
            b"-1",
            b"1e308",
            b"1e999",
            b"null",
            b"\\u0000",
            b"\"is\":\"field\"",
            b"\"from\":{\"item\":10,\"port\":\"end\"}",
            b"\"gaps\":[{\"first\":4294967295,\"count\":4294967295}]",
            b"{\"is\":\"spiral\",\"radius\":500.0,\"ring\":-45.0,\"turns\":6.5,\"hand\":\"left\"}",
            b"[[[[[[[[",
        ],
        // A field may have 20 000 000 cells at 3 bytes, and its inverse and its copy hold as many again.
        room: (64 << 20) + 4 * 3 * 20_000_000,
        read: commands,
    },
];

fn text_plan(bytes: &[u8]) -> Result<bool, String> {
    let Ok(text) = std::str::from_utf8(bytes) else { return Ok(false) };
    let (toml, stock) = match text.split_once(STOCK) {
        Some((toml, stock)) => (toml, Some(stock.as_bytes())),
        None => (text, None),
    };
    let facts = |name: &str| PictureFacts {
        // Another picture for every name, as on a disk.
        sha256: store::sha256_hex(name.as_bytes()),
        width: 640,
        height: 480,
    };
    let Ok(plan) = exchange::read_text_plan(toml, stock, &mut |name| Some(facts(name))) else {
        return Ok(false);
    };
    let written = exchange::write_text_plan(&plan);
    let files: BTreeMap<_, _> = written.pictures.iter().cloned().collect();
    let again =
        exchange::read_text_plan(&written.plan_toml, Some(written.stock_csv.as_bytes()), &mut |name| {
            let sha256 = files.get(name)?.clone();
            Some(PictureFacts { sha256, width: 640, height: 480 })
        });
    match again {
        Ok(again) if again == plan => Ok(true),
        Ok(_) => Err("the plan that was accepted reads back as another".into()),
        Err(e) => Err(format!("the plan that was accepted does not read back: {e}")),
    }
}

/// A command a line, applied in turn to an empty plan: each that is taken can be taken back to the byte.
fn commands(bytes: &[u8]) -> Result<bool, String> {
    let mut plan = Plan::new("");
    let mut taken = 0;
    for line in bytes.split(|&b| b == b'\n') {
        let Ok(command) = serde_json::from_slice::<Command>(line) else { continue };
        let before = plan.clone();
        match plan.apply(&command) {
            Ok(applied) => {
                let after = plan.clone();
                let undone =
                    plan.apply(&applied.inverse).map_err(|e| format!("an inverse was refused: {e}"))?;
                if plan != before {
                    return Err("an inverse left another plan".into());
                }
                plan.apply(&undone.inverse).map_err(|e| format!("a redo was refused: {e}"))?;
                if plan != after {
                    return Err("a redo left another plan".into());
                }
                taken += 1;
            }
            Err(_) if plan == before => {}
            Err(refusal) => return Err(format!("a refused command changed the plan: {refusal}")),
        }
    }
    let text = serde_json::to_string(&plan).map_err(|e| format!("the plan cannot be written: {e}"))?;
    let again: Plan = serde_json::from_str(&text).map_err(|e| format!("the plan does not read back: {e}"))?;
    if again == plan { Ok(taken > 0) } else { Err("the plan reads back as another".into()) }
}

fn stock_file(bytes: &[u8]) -> Result<bool, String> {
    let Ok(read) = exchange::read_stock(bytes, "stock.csv") else { return Ok(false) };
    let stock = exchange::to_stock(&read, None);
    let text = exchange::write_stock(&stock);
    let again = exchange::read_stock(text.as_bytes(), "stock.csv")
        .map_err(|e| format!("the stock list that was accepted does not read back: {e}"))?;
    // Kinds that no lot names are not part of a list; they are handed in as the plan has them.
    let frame =
        plan::Stock { kinds: stock.kinds.clone(), gear: stock.gear.clone(), ..plan::Stock::default() };
    if exchange::to_stock(&again, Some(&frame)) == stock {
        Ok(true)
    } else {
        Err("the stock list that was accepted reads back as another".into())
    }
}

fn picture(bytes: &[u8]) -> Result<bool, String> {
    let limits =
        PictureLimits { max_pixels: 1_000_000, max_extra_bytes: 1 << 20, ..PictureLimits::default() };
    let (Ok(first), again) = (colour::decode_picture(bytes, &limits), colour::decode_picture(bytes, &limits))
    else {
        return Ok(false);
    };
    if u64::from(first.width()) * u64::from(first.height()) > limits.max_pixels {
        return Err(format!("{} x {} pixels are more than the limit", first.width(), first.height()));
    }
    if again.as_ref() == Ok(&first) { Ok(true) } else { Err("the same bytes give two pictures".into()) }
}

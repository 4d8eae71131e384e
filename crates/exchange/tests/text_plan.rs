//! The text plan: complete in both directions, and precise about what is wrong.

mod common;

use common::{any_plan, facts};
use exchange::{TextPlanError, read_text_plan, write_text_plan};
use plan::{Body, Plan};
use proptest::prelude::*;

const STOCK: &str = "name,code,hex,count\nSky,S,#6fb1e0,6750\nSand,W,#e8d7a0,1200\nSlate,B2,#445566,10\n";

const PLAN: &str = r#"
name = "From Spring to Sea"

[[picture]]
file = "mill.png"

[[item]]
is = "field"
name = "Mill"
at = ["0 mm", "1.2 m"]
lanes = 2
ranks = 6
pitch_along = "15 mm"
pitch_across = "25 mm"

[item.picture]
file = "mill.png"

[item.cells]
lanes = ["S3 W1 .1 B2:1", ".6"]
by_hand = ["lane 1: 2-3 6"]
"#;

fn read(text: &str) -> Result<Plan, TextPlanError> {
    read_text_plan(text, Some(STOCK.as_bytes()), &mut |_| Some(facts()))
}

fn refused(text: &str) -> String {
    read(text).expect_err("this plan must be refused").to_string()
}

fn line_of(needle: &str) -> usize {
    PLAN.lines().position(|l| l.contains(needle)).expect("the line is there") + 1
}

/// What names something that was refused is no mistake of its own.
#[test]
fn one_mistake_is_told_once() {
    let lines = |text: &str| refused(text).lines().map(str::to_owned).collect::<Vec<_>>();
    let item = "[[item]]\nis = \"start\"\nname = \"P\"\nat = [\"0 mm\", \"0 mm\"]\nwidth = \"20 mm\"\n";
    let line = "[[item]]\nis = \"line\"\nname = \"L\"\nat = [\"0 mm\", \"0 mm\"]\ngap = \"4 mm\"\ncolours = \"S\"\n\
                leg = [{ straight = \"20 mm\" }]\n";
    let kind = "[[kind]]\nname = \"Tiny\"\nthickness = \"7.5 mm\"\nwidth = \"0.5 mm\"\nheight = \"40 mm\"\nmass = \"8 g\"\n";
    let said = lines(&format!("name = \"T\"\n{kind}{line}kind = \"Tiny\"\n"));
    assert!(said.len() == 1 && said[0].contains("kind Tiny, width: 0.5 mm"), "{said:#?}");
    let said = lines(&format!("name = \"T\"\n{line}kind = \"Tiny\"\n"));
    assert!(said.len() == 1 && said[0].contains("kind = \"Tiny\" is not in this plan"), "{said:#?}");
    let surface = "[[surface]]\nname = \"Deck\"\nis = \"plank\"\nheight = \"-3 mm\"\n\
                   outline = [[\"0 mm\", \"0 mm\"], [\"9 mm\", \"0 mm\"], [\"9 mm\", \"9 mm\"]]\n";
    let said = lines(&format!("name = \"T\"\n{surface}{item}surface = \"Deck\"\n"));
    assert!(said.len() == 1 && said[0].contains("surface Deck"), "{said:#?}");
}

#[test]
fn a_plan_written_by_hand_is_read_as_it_says() {
    let plan = read(PLAN).unwrap();
    let item = plan.item_by_name("Mill").unwrap();
    assert_eq!((item.at.x, item.at.y), (0.0, 1200.0));
    let Body::Field(field) = &item.body else { panic!("a field") };
    let code = |c: &u16| plan.colour(plan::ColourId(*c)).map_or(".", |c| c.code.as_str()).to_owned();
    let codes: Vec<String> = field.cells.as_slice().iter().map(code).collect();
    assert_eq!(codes.join(" "), "S S S W . B2 . . . . . .");
    let marks: Vec<usize> = (0..12).filter(|&i| field.by_hand.as_slice()[i]).collect();
    assert_eq!(marks, [1, 2, 5]);
    assert_eq!(field.picture.as_ref().map(|p| p.picture), Some(plan.pictures[0].id));
    assert_eq!(plan.stock.kinds[field.kind.0 as usize - 1].name, "Standard");
}

#[test]
fn an_unknown_key_is_named_with_its_line_and_the_nearest_known_one() {
    let text = refused(&PLAN.replace("pitch_along", "pich_along"));
    let line = line_of("pitch_along");
    assert!(
        text.contains(&format!(
            "plan.toml, line {line}, column 1: The key \"pich_along\" is not known here. Did you mean \"pitch_along\"?"
        )),
        "{text}"
    );
}

#[test]
fn every_slip_is_named_with_its_line() {
    let cases = [
        ("pitch_along = \"15 mm\"", "pitch_along = 15", "is not a quantity with its unit such as \"15 mm\""),
        ("pitch_along = \"15 mm\"", "pitch_along = \"nan mm\"", "is not a quantity"),
        ("pitch_along = \"15 mm\"", "pitch_along = inf", "is not a quantity"),
        ("ranks = 6", "ranks = -6", "is not a whole number"),
        ("ranks = 6", "ranks = 6.5", "is not a whole number"),
        ("ranks = 6", "ranks = 1_000_000_000", "is not a whole number"),
        ("lanes = 2", "lanes = 20000000", "more cells than one plan may have"),
        ("lanes = [\"S3", "lanes = [\"S4", "Lane 1: \"B2:1\" makes the lane longer than its 6 ranks"),
        ("lanes = [\"S3", "lanes = [\"S2", "Lane 1: A lane of 5 cells does not fill its 6 ranks"),
        ("lanes = [\"S3", "lanes = [\"K3", "\"K3\" names a colour code that is not in the stock"),
        ("lanes = [\"S3", "lanes = [\"S", "\"S\" is not a colour code and a count"),
        ("by_hand = [\"lane 1", "by_hand = [\"lane 3", "does not name cells of this field"),
        ("is = \"field\"", "is = \"feild\"", "Did you mean \"field\"?"),
        ("at = [\"0 mm\"", "at = [\"0\"", "is not a quantity"),
    ];
    for (from, to, message) in cases {
        let text = refused(&PLAN.replacen(from, to, 1));
        let line = format!("plan.toml, line {}, column ", line_of(from));
        assert!(text.contains(&line) && text.contains(message), "{from} -> {to}: {text}");
    }
}

#[test]
fn what_the_gate_refuses_is_named_with_the_line_of_its_table() {
    let text = refused(&PLAN.replace("pitch_across = \"25 mm\"", "pitch_across = \"20 mm\""));
    let line = line_of("[[item]]");
    assert!(text.contains(&format!("line {line}, ")) && text.contains("has no room for a piece"), "{text}");
}

#[test]
fn all_problems_are_named_at_once() {
    let text =
        PLAN.replace("ranks = 6", "ranks = \"six\"").replace("file = \"mill.png\"", "file = \"../mill.png\"");
    let error = read(&text).unwrap_err();
    assert!(error.problems.len() >= 3, "{error}");
    let both = read_text_plan("nam = 1\n", Some(b"name,code\n"), &mut |_| None).unwrap_err().to_string();
    assert!(both.contains("Did you mean \"name\"?") && both.contains("stock.csv, line 1"), "{both}");
}

#[test]
fn pictures_stay_inside_the_folder_and_must_be_there() {
    for bad in ["../mill.png", "/mill.png", "a/mill.png", "a\\\\mill.png", "C:mill.png", "..", "plan.toml"] {
        let mut asked = 0;
        let text = PLAN.replace("mill.png", bad);
        let result = read_text_plan(&text, Some(STOCK.as_bytes()), &mut |_| {
            asked += 1;
            Some(facts())
        });
        assert!(result.is_err(), "{bad}");
        assert_eq!(asked, 0, "{bad} must never be looked for");
    }
    let text = read_text_plan(PLAN, Some(STOCK.as_bytes()), &mut |_| None).unwrap_err().to_string();
    assert!(text.contains("There is no picture \"mill.png\" beside the plan"), "{text}");
}

#[test]
fn ids_and_names_that_are_there_twice_are_refused() {
    let item = |id: u32| {
        format!(
            "[[item]]\nid = {id}\nis = \"placeholder\"\nname = \"x\"\nat = [\"0 mm\", \"0 mm\"]\nlength = \"1 m\"\nwidth = \"1 m\"\nheight = \"1 m\"\n"
        )
    };
    let text = refused(&(item(3) + &item(3)));
    assert!(text.contains("line 10, column 6: The id 3 is that of another item"), "{text}");
    let pictures = "[[picture]]\nfile = \"a.png\"\n[[picture]]\nfile = \"a.png\"\n";
    assert!(refused(pictures).contains("\"a.png\" is there twice"));
    let sections = "[[section]]\nname = \"A\"\n[[section]]\nname = \"A\"\n";
    let text = refused(&(sections.to_owned() + &item(9) + "section = \"A\"\n"));
    assert!(text.contains("is the name of 2 of them. Give the id, without quotes"), "{text}");
    assert!(refused("name = \"a\"\nname = \"b\"\n").contains("line 2"));
}

#[test]
fn a_newer_format_and_text_that_is_not_toml_are_refused() {
    assert!(refused("format = 2\n").contains("Format 2 is not known"));
    assert!(refused("name = \n").contains("plan.toml, line 1"));
}

#[test]
fn a_taped_distance_that_cannot_be_read_is_told_once_at_its_place() {
    for length in ["\"nan mm\"", "\"inf m\"", "nan", "\"\"", "\"1 parsec\""] {
        let text = format!(
            "[hall]\nmark = [{{ name = \"A\", at = [\"0 mm\", \"0 mm\"] }}, {{ name = \"B\", at = [\"1 m\", \"0 mm\"] }}]\ntape = [{{ from = \"A\", to = \"B\", length = {length} }}]\n"
        );
        let said = refused(&text);
        assert!(said.starts_with("plan.toml, line 3"), "{said}");
        assert_eq!(said.lines().count(), 1, "{said}");
    }
}

#[test]
fn bombs_are_refused_before_they_cost_memory() {
    let deep = format!("name = {}", "[".repeat(200_000));
    assert!(read(&deep).is_err());
    let deep = format!("{} = 1", vec!["a"; 100_000].join("."));
    assert!(read(&deep).is_err());
    let wide = format!("item = [{}]", "0,".repeat(9_000_000));
    assert!(refused(&wide).contains("too large"));
    let hidden = format!("name = \"\"\"x\"x\"\"\" \nitem = [{}]", "0,".repeat(9_000_000));
    assert!(refused(&hidden).contains("too large"));
    assert!(refused(&" ".repeat(exchange::MAX_TEXT_BYTES + 1)).contains("too large"));
    let huge = "[[item]]\nis = \"field\"\nname = \"x\"\nat = [\"0 mm\", \"0 mm\"]\nlanes = 4000\nranks = 5000\npitch_along = \"15 mm\"\npitch_across = \"25 mm\"\n";
    assert!(refused(&huge.repeat(30)).contains("more cells than one plan may have"));
}

/// A plan with one of each of the later items. Links lead to what stands further down, and round in a ring.
const RUN: &str = r##"
[hall]
name = "Larkmeadow Hall"
outline = [["0 mm", "0 mm"], ["30 m", "0 mm"], ["30 m", "18 m"], ["0 mm", "18 m"]]
floor_grip = [0.2, 0.25]

[[hall.part]]
is = "pillar"
name = "P1"
outline = [["5 m", "5 m"], ["5.4 m", "5 m"], ["5.4 m", "5.4 m"]]
height = "6 m"

[[hall.timed]]
pieces = 200
gap = "7.5 mm"
took = "3.1 s"

[[hall.mark]]
name = "NW"
at = ["0 mm", "18 m"]

[[hall.mark]]
name = "SE"
at = ["30 m", "0 mm"]

[[hall.tape]]
from = "NW"
to = "SE"
length = "34.99 m"

[[item]]
is = "line"
name = "Brook"
at = ["0 mm", "0 mm"]
gap = "7.5 mm"
placed = "hand"
from = "Mill stream: end"
to = { item = "Mill feed", port = "entry" }
colours = { repeat = "S3 B2:1" }
gaps = ["121-124", "301-306 stopper"]
built = { east = "4 mm", turn = "0.2 deg" }

[[item.leg]]
straight = "1.2 m"

[[item.leg]]
arc = "90 deg"
radius = "300 mm"

[[item.leg]]
spiral = "left"
radius = "500 mm"
ring = "-45 mm"
turns = 6.5

[[item.leg]]
through = [["0 mm", "1 m"], ["1 m", "1 m"]]

[[item.bridge]]
from = "200 mm"
deck = "600 mm"
height = "75 mm"
thickness = "12 mm"

[[item]]
is = "line"
name = "Mill stream"
at = ["0 mm", "0 mm"]
pitch = "15 mm"
lanes = 3
from = "Brook: end left"
colours = "W"

[[item]]
is = "feed"
name = "Mill feed"
at = ["0 mm", "0 mm"]
of = "Mill"
way = "echelon"
side = "left"
colour = "S"

[[item]]
is = "field"
name = "Mill"
at = ["0 mm", "1.2 m"]
lanes = 2
ranks = 6
pitch_along = "15 mm"
pitch_across = "25 mm"
course = "opposed"

[[item]]
is = "fill"
name = "Sea"
at = ["0 mm", "0 mm"]
with = "curls"
swing = "40 mm"
ring = "60 mm"
pitch = "15 mm"
colours = { blend = "S W B2" }
outline = [["0 mm", "0 mm"], ["1 m", "0 mm"], ["1 m", "1 m"]]

[[item]]
is = "start"
name = "First push"
at = ["0 mm", "0 mm"]
width = "20 mm"

[[item]]
is = "stopper"
name = "Block"
at = ["0 mm", "0 mm"]
thickness = "20 mm"
width = "60 mm"
height = "60 mm"
fixed = true
"##;

fn run_line_of(needle: &str) -> usize {
    RUN.lines().position(|l| l.contains(needle)).expect("the line is there") + 1
}

#[test]
fn a_run_written_by_hand_is_read_as_it_says() {
    let plan = read(RUN).unwrap();
    let id = |name: &str| plan.item_by_name(name).unwrap().id;
    let brook = plan.item_by_name("Brook").unwrap();
    let Body::Line(line) = &brook.body else { panic!("a line") };
    let port = |name: &str, port: &str| Some(plan::Link { item: id(name), port: port.into() });
    assert_eq!((&line.from, &line.to), (&port("Mill stream", "end"), &port("Mill feed", "entry")));
    assert_eq!((line.lanes, line.path.len(), line.bridges.len()), (1, 4, 1));
    assert_eq!((line.bridges[0].step.to_mm(), line.bridges[0].per_step), (7.5, 2));
    let gaps: Vec<_> = brook.gaps.iter().map(|g| (g.first, g.count, g.stopper)).collect();
    assert_eq!(gaps, [(120, 4, false), (300, 6, true)]);
    let Body::Line(stream) = &plan.item_by_name("Mill stream").unwrap().body else { panic!("a line") };
    assert_eq!(stream.from, port("Brook", "end left"), "the two lines lead into each other");
    let Body::Feed(feed) = &plan.item_by_name("Mill feed").unwrap().body else { panic!("a feed") };
    let way = plan::FeedWay::Echelon { side: plan::Hand::Left, turn: units::Angle::deg(50.0) };
    assert_eq!((feed.of, feed.way, feed.pitch.to_mm()), (id("Mill"), way, 15.0));
    assert_eq!(plan.hall.tapes[0].length.to_mm(), 34_990.0);
    assert_eq!((plan.hall.grip.floor, plan.hall.grip.piece), ((0.2, 0.25), (0.06, 0.2)));
    round_trip(&plan).unwrap();
}

#[test]
fn every_slip_in_a_run_is_named_with_its_line() {
    let cases = [
        (
            "gap = \"7.5 mm\"\nplaced",
            "pitch = \"15 mm\"\ngap = \"7.5 mm\"\nplaced",
            "Both \"pitch\" and \"gap\"",
        ),
        ("gap = \"7.5 mm\"\nplaced", "gip = \"7.5 mm\"\nplaced", "There is none of pitch, gap here"),
        ("placed = \"hand\"", "placed = \"hnad\"", "Did you mean \"hand\"?"),
        ("from = \"Mill stream: end\"", "from = \"Mill stream\"", "is not an item and its port"),
        (
            "from = \"Mill stream: end\"",
            "from = \"Mill race: end\"",
            "\"Mill race\" is not an item of this plan",
        ),
        ("from = \"Mill stream: end\"", "from = \"Brook: end\"", "port end is one of the item itself"),
        ("item = \"Mill feed\"", "item = 99", "item = 99 is not an item of this plan"),
        ("repeat = \"S3 B2:1\"", "repeat = \"S3 K1\"", "\"K\" is not a colour code of the stock"),
        ("repeat = \"S3 B2:1\"", "repeat = \"S\"", "\"S\" is not a colour code and a count"),
        ("repeat = \"S3 B2:1\"", "repeat = \"\"", "an empty pattern colours no piece"),
        ("repeat = \"S3 B2:1\"", "repaet = \"S3\"", "Did you mean \"repeat\"?"),
        ("\"121-124\"", "\"124-121\"", "does not name pieces to leave out"),
        ("\"121-124\"", "\"121-301\"", "lies before piece 302"),
        ("straight = \"1.2 m\"", "strait = \"1.2 m\"", "Did you mean \"straight\"?"),
        ("spiral = \"left\"", "spiral = \"in\"", "spiral = \"in\" is not known"),
        ("turns = 6.5", "turns = nan", "is not a plain number"),
        ("turns = 6.5", "turns = 65", "lead from a radius of 500 mm to one of -2425 mm"),
        ("east = \"4 mm\"", "esat = \"4 mm\"", "Did you mean \"east\"?"),
        ("of = \"Mill\"", "of = \"Sea\"", "is not a field"),
        ("side = \"left\"", "enter = \"left\"", "\"enter\" has no meaning for this way of feeding"),
        ("with = \"curls\"", "with = \"waves\"", "\"swing\" has no meaning for this way of filling"),
        ("course = \"opposed\"", "course = \"oposed\"", "Did you mean \"opposed\"?"),
        ("fixed = true", "fixed = \"yes\"", "is not true or false"),
        ("floor_grip = [0.2, 0.25]", "floor_grip = 0.2", "is not two numbers"),
        ("took = \"3.1 s\"", "took = \"3.1 m\"", "is not a quantity"),
        ("is = \"pillar\"", "is = \"piller\"", "Did you mean \"pillar\"?"),
        ("to = \"SE\"", "to = \"SW\"", "\"SW\" is not a mark of the hall"),
    ];
    for (from, to, message) in cases {
        let text = refused(&RUN.replacen(from, to, 1));
        assert!(text.contains("plan.toml, line ") && text.contains(message), "{from} -> {to}: {text}");
    }
    let line = format!("plan.toml, line {}, column ", run_line_of("turns = 6.5"));
    assert!(refused(&RUN.replace("turns = 6.5", "turns = \"6\"")).contains(&line));
}

#[test]
fn the_run_of_the_readme_is_read_as_it_stands() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let (_, block) = readme.split_once("```toml\n").expect("the README shows a text plan");
    let (block, _) = block.split_once("```").expect("it ends");
    let rest = r#"
[[item]]
is = "line"
name = "Spring"
at = ["0 mm", "0 mm"]
pitch = "15 mm"
colours = "T"

[[item]]
id = 17
is = "field"
name = "Mill"
at = ["0 mm", "0 mm"]
lanes = 2
ranks = 6
pitch_along = "15 mm"
pitch_across = "26 mm"
"#;
    let stock = b"name,code,hex,count\nSky,B,#6fb1e0,6750\nSand,W,#e8d7a0,1200\nSlate,T,#445566,10\n";
    let plan = read_text_plan(&(block.to_owned() + rest), Some(stock), &mut |_| None).unwrap();
    assert_eq!(plan.items.len(), 10);
    round_trip(&plan).unwrap();
}

#[test]
fn links_tell_items_of_one_name_apart_by_id() {
    let twice = RUN.replace("name = \"Sea\"", "name = \"Mill stream\"");
    assert!(refused(&twice).contains("\"Mill stream\" is the name of 2 items"));
    let ids = twice
        .replace(
            "name = \"Mill stream\"\nat = [\"0 mm\", \"0 mm\"]\npitch",
            "id = 70\nname = \"Mill stream\"\nat = [\"0 mm\", \"0 mm\"]\npitch",
        )
        .replace("from = \"Mill stream: end\"", "from = { item = 70, port = \"end\" }");
    let plan = read(&ids).unwrap();
    assert!(write_text_plan(&plan).plan_toml.contains("from = { item = 70, port = \"end\" }"));
    round_trip(&plan).unwrap();
    let colon = RUN
        .replace("\"Mill stream", "\"Mill: stream")
        .replace("from = \"Mill: stream: end\"", "from = { item = \"Mill: stream\", port = \"end\" }");
    round_trip(&read(&colon).unwrap()).unwrap();
}

fn round_trip(plan: &Plan) -> Result<(), TestCaseError> {
    let text = write_text_plan(plan);
    let mut pictures = |name: &str| {
        let i = text.pictures.iter().position(|(n, _)| n == name)?;
        let (p, sha256) = (&plan.pictures[i], text.pictures[i].1.clone());
        Some(exchange::PictureFacts { sha256, width: p.width, height: p.height })
    };
    let back = read_text_plan(&text.plan_toml, Some(text.stock_csv.as_bytes()), &mut pictures)
        .map_err(|e| TestCaseError::fail(format!("{e}\n{}\n{}", text.plan_toml, text.stock_csv)))?;
    prop_assert_eq!(&back, plan, "{}\n{}", text.plan_toml, text.stock_csv);
    prop_assert_eq!(write_text_plan(&back), text);
    Ok(())
}

#[test]
fn the_plan_written_by_hand_comes_back_too() {
    round_trip(&read(PLAN).unwrap()).unwrap();
    round_trip(&Plan::new("")).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn import_export_import_gives_the_same_plan(plan in any_plan()) {
        round_trip(&plan)?;
    }

    #[test]
    fn no_change_of_a_plan_makes_the_reader_panic(at in 0..PLAN.len(), with in "[\\[\\]=\"'\\\\0-9a-z.:# \n-]{0,4}", cut in 0..20usize) {
        for text in [PLAN, RUN] {
            let at = at * text.len() / PLAN.len();
            let mut text = text.to_owned();
            let end = (at + cut).min(text.len());
            text.replace_range(at..end, &with);
            let _ = read(&text);
        }
    }
}

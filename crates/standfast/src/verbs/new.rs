//! `new`: a project file from an example, a text plan, a picture, or nothing.

use findings::grouped;
use std::path::Path;
use std::sync::Arc;

use desk::Desk;
use plan::{Command, ItemId, Plan};
use serde_json::json;

use crate::cli::NewArgs;
use crate::files;
use crate::load;
use crate::out::{Done, Ending, Out, Trouble};
use crate::verbs::matching;
use crate::verbs::picture::{OnePicture, lay_out};

/// Makes a project file.
pub(crate) fn run(out: &Out, args: &NewArgs) -> Done {
    if args.file.exists() {
        let message = format!(
            "{}: there is a file of that name. Name another, or move it away first.",
            args.file.display()
        );
        return Err(Trouble::input("file", message));
    }
    let desk = match (&args.example, &args.from, &args.picture) {
        (Some(name), _, _) if name == "spring-to-sea" => from_example(&args.file)?,
        (Some(name), _, _) => {
            let message = format!("--example {name}: there is no such example. Write spring-to-sea.");
            return Err(Trouble::input("usage", message));
        }
        (_, Some(from), _) => from_text(&args.file, load::text_plan(from)?)?,
        (_, _, Some(picture)) => from_picture(out, args, picture)?,
        _ => from_stock(out, args)?,
    };
    let snapshot = desk.snapshot();
    desk.close()?;
    let pieces = placement::pieces_of_all(&snapshot.plan);
    let (file, items) = (args.file.display().to_string(), snapshot.plan.items.len());
    out.result(
        || {
            format!(
                "{file}: made, {items} items, {} pieces. Open it with: standfast open {file}\n",
                grouped(pieces)
            )
        },
        || json!({ "file": file, "items": items, "pieces": pieces, "change": snapshot.change }),
    )?;
    Ok(Ending::Fine)
}

/// The example, as a project.
pub(crate) fn from_example(path: &Path) -> Result<Arc<Desk>, Trouble> {
    let example = desk::example_plan()?;
    Ok(make(path, &example.plan, &example.pictures)?)
}

fn from_text(path: &Path, text: load::TextPlan) -> Result<Arc<Desk>, Trouble> {
    let (plan, pictures) = text.into_parts()?;
    Ok(make(path, &plan, &pictures)?)
}

/// A project that begins with a whole plan; its pictures are stored before anything can ask for them.
fn make(path: &Path, plan: &Plan, pictures: &[Vec<u8>]) -> Result<Arc<Desk>, desk::DeskError> {
    let desk = Desk::create(path, plan)?;
    for bytes in pictures {
        desk.keep_picture(bytes)?;
    }
    Ok(desk)
}

fn from_stock(out: &Out, args: &NewArgs) -> Result<Arc<Desk>, Trouble> {
    let mut plan = Plan::new(title(&args.file));
    if let Some(list) = &args.stock {
        let (stock, notes) = load::stock_list(list)?;
        notes.iter().for_each(|n| out.remark(n));
        plan.apply(&Command::ReplaceStock { stock }).map_err(desk::DeskError::from)?;
    }
    Ok(make(&args.file, &plan, &[])?)
}

fn from_picture(out: &Out, args: &NewArgs, picture: &Path) -> Result<Arc<Desk>, Trouble> {
    let (Some(list), Some(cells)) = (&args.stock, args.cells) else {
        return Err(Trouble::input("usage", "--picture needs --stock and --cells as well."));
    };
    let (stock, notes) = load::stock_list(list)?;
    notes.iter().for_each(|n| out.remark(n));
    let bytes = files::read(picture)?;
    let drawn = lay_out(&title(picture), &bytes, stock, cells, &args.how)?;
    // Through the gate: what is built for real must keep its rules.
    let mut plan = Plan::new(title(&args.file));
    plan.hall = drawn.hall.clone();
    let mut facts = drawn.pictures[0].clone();
    facts.name = load::name_of(picture);
    let mut item = drawn.items[0].clone();
    let mut steps = vec![Command::ReplaceStock { stock: drawn.stock.clone() }];
    plan.apply(&steps[0]).map_err(desk::DeskError::from)?;
    facts.id = plan::PictureId(plan.fresh_id());
    item.id = ItemId(plan.fresh_id() + 1);
    if let plan::Body::Field(field) = &mut item.body
        && let Some(usage) = &mut field.picture
    {
        usage.picture = facts.id;
    }
    let id = item.id;
    steps = vec![Command::PutPicture { picture: facts }, Command::PutItem { item: Box::new(item) }];
    plan.apply(&Command::Together { steps }).map_err(desk::DeskError::from)?;
    let ask = desk::MatchAsk { items: vec![id], goal: None, fewer_changes: None, only: None, shows: None };
    let source = OnePicture(bytes);
    let outcome = matching::solve(out, &plan, &source, &desk::PictureBank::new(), &ask)?;
    let laid = outcome.cells.into_iter().map(|(id, cells)| Command::Lay { id, cells }).collect();
    plan.apply(&Command::Together { steps: laid }).map_err(desk::DeskError::from)?;
    Ok(make(&args.file, &plan, &[source.0])?)
}

/// The file's name without folders and ending.
fn title(path: &Path) -> String {
    path.file_stem().map_or_else(|| "Plan".into(), |n| n.to_string_lossy().into_owned())
}

//! Draws the pictures of the example plan "From Spring to Sea": `example-pictures FOLDER`.
//!
//! The same bits come out on every machine, so that a check can draw them again and compare.

mod bridge;
mod building;
mod canvas;
mod colour;
mod lighthouse;
mod mill;
mod nature;
mod noise;
mod sail;
mod shape;
mod spring;
mod town;

use std::path::PathBuf;

use anyhow::{Context as _, Result};

/// A picture's name and the function that draws it.
type Scene = (&'static str, fn() -> canvas::Canvas);

fn main() -> Result<()> {
    let mut args = std::env::args_os().skip(1);
    let folder =
        PathBuf::from(args.next().context("Name the folder for the pictures: example-pictures FOLDER")?);
    let wanted = args.next();
    std::fs::create_dir_all(&folder)
        .with_context(|| format!("The folder could not be made: {}", folder.display()))?;
    let scenes: [Scene; 6] = [
        ("spring", spring::draw),
        ("mill", mill::draw),
        ("town", town::draw),
        ("bridge", bridge::draw),
        ("lighthouse", lighthouse::draw),
        ("sail", sail::draw),
    ];
    for (name, draw) in
        scenes.into_iter().filter(|(name, _)| wanted.as_ref().is_none_or(|wanted| wanted == name))
    {
        draw().save(&folder.join(name).with_extension("png"))?;
    }
    Ok(())
}

//! Tells what a picture costs: seconds to decode and to lay onto cells, and the most memory held.
//!
//! `cargo run -p colour --example picture_cost -- FILE [COLUMNS ROWS]`

#![allow(clippy::print_stdout, reason = "printing figures is what this program is for")]

use std::time::Instant;

use colour::{CellGrid, Fit, Flow, PictureLimits, decode_picture, to_cells};

/// The most memory this process has held, in MiB; 0 where the system does not tell.
fn peak_mib() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|kib| kib.parse::<u64>().ok()).unwrap_or(0) / 1024
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let file = arguments.next().ok_or("Name a picture file.")?;
    let mut number = || arguments.next().map_or(Ok(100), |a| a.parse());
    let grid = CellGrid { fit: Fit::Stretch, ..CellGrid::new(number()?, number()?, 15.0, 25.0) };
    let bytes = std::fs::read(&file)?;
    let start = Instant::now();
    let picture = decode_picture(&bytes, &PictureLimits::default())?;
    let decoded = start.elapsed().as_secs_f64();
    let decode_peak = peak_mib();
    drop(bytes);
    let start = Instant::now();
    let cells = to_cells(&picture, &grid, &mut |_| Flow::Go)?;
    let laid = start.elapsed().as_secs_f64();
    println!(
        "{} x {} pixels: decode {decoded:.2} s, peak {decode_peak} MiB; {} cells {laid:.3} s, peak {} MiB",
        picture.width(),
        picture.height(),
        cells.wanted.len(),
        peak_mib()
    );
    for note in picture.notes() {
        println!("{note}");
    }
    Ok(())
}

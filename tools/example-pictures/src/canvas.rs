//! The canvas: fills outlines with smooth edges, washes whole areas, mirrors a scene in water.

use std::fs::File;
use std::io::BufWriter;
use std::path::Path;

use anyhow::{Context as _, Result};

use crate::colour::{Colour, Ink, Linear, encode};
use crate::noise::{layered, step};
use crate::shape::Shape;

/// Width of every picture in pixels.
pub(crate) const WIDTH: usize = 960;
/// Height of every picture in pixels.
pub(crate) const HEIGHT: usize = 720;
/// Scan lines within a pixel; along a line coverage is exact.
const FINE: usize = 8;

/// Pixels in linear light, line after line from the top, left to right.
pub(crate) struct Canvas {
    pixels: Vec<Linear>,
}

/// A sheet of water: where it begins and ends, how lively it is, and its own colours near and far.
pub(crate) struct Water {
    pub(crate) top: f64,
    pub(crate) bottom: f64,
    /// Sideways shift of a reflection near the viewer, in pixels.
    pub(crate) swing: f64,
    /// How much of what is seen is reflection near the horizon and near the viewer, 0..=1.
    pub(crate) mirror: (f64, f64),
    pub(crate) far: Colour,
    pub(crate) near: Colour,
    pub(crate) crest: Colour,
    pub(crate) seed: u64,
}

impl Canvas {
    pub(crate) fn new() -> Canvas {
        Canvas { pixels: vec![[0.0; 3]; WIDTH * HEIGHT] }
    }

    /// Lays ink over every pixel; the ink is asked at pixel centres.
    pub(crate) fn wash(&mut self, ink: impl Fn(f64, f64) -> Ink) {
        for (at, pixel) in self.pixels.iter_mut().enumerate() {
            let (colour, cover) = ink((at % WIDTH) as f64 + 0.5, (at / WIDTH) as f64 + 0.5);
            lay(pixel, colour, cover);
        }
    }

    /// Fills a shape with one colour.
    pub(crate) fn flat(&mut self, shape: &Shape, colour: Colour, cover: f64) {
        self.fill(shape, |_, _| (colour, cover));
    }

    /// Fills a shape with ink.
    pub(crate) fn fill(&mut self, shape: &Shape, ink: impl Fn(f64, f64) -> Ink) {
        let ys = shape.outlines.iter().flatten().map(|point| point.1);
        let (low, high) = ys.fold((f64::MAX, f64::MIN), |(low, high), y| (low.min(y), high.max(y)));
        let (first, last) = (low.floor().max(0.0) as usize, high.ceil().clamp(0.0, HEIGHT as f64) as usize);
        let mut cover = vec![0.0; WIDTH];
        for y in first..last {
            cover.fill(0.0);
            let mut span = (WIDTH, 0);
            for fine in 0..FINE {
                let at = y as f64 + (fine as f64 + 0.5) / FINE as f64;
                for (from, to) in inside(shape, at) {
                    add(&mut cover, &mut span, from, to);
                }
            }
            for (x, share) in cover.iter().enumerate().take(span.1).skip(span.0) {
                let (colour, alpha) = ink(x as f64 + 0.5, y as f64 + 0.5);
                lay(&mut self.pixels[y * WIDTH + x], colour, alpha * share.min(1.0));
            }
        }
    }

    /// Fills the part of the canvas from `top` to `bottom` with water that mirrors what is above.
    pub(crate) fn water(&mut self, water: &Water) {
        let above = self.pixels.clone();
        let depth = water.bottom - water.top;
        for y in water.top.max(0.0) as usize..(water.bottom as usize).min(HEIGHT) {
            let near = (y as f64 + 0.5 - water.top) / depth;
            // Waves look larger nearer by; they are always wider than they are high.
            let size = 5.0 + 34.0 * near;
            for x in 0..WIDTH {
                let (u, v) = ((x as f64 - 480.0) / (size * 3.2), near.sqrt() * depth / 5.5);
                let wave = layered(u, v, 3, water.seed) - 0.5;
                let fine = layered(u * 3.1, v * 2.0, 2, water.seed + 5) - 0.5;
                let from_x = x as f64 + (wave * 2.0 + fine) * water.swing * (0.15 + near);
                let from_y =
                    water.top - (y as f64 + 0.5 - water.top) * 1.02 + wave * water.swing * 0.9 * near;
                let seen = sample(&above, from_x, from_y.min(water.top - 1.0));
                let own = water.far.mix(water.near, near.sqrt() + wave * 0.5 + fine * 0.2).linear();
                let share = water.mirror.0 + (water.mirror.1 - water.mirror.0) * near - wave * 0.25;
                let pixel = &mut self.pixels[y * WIDTH + x];
                for part in 0..3 {
                    pixel[part] = own[part] + (seen[part] - own[part]) * share.clamp(0.0, 1.0);
                }
                let crest = step(0.12, 0.3, wave + fine * 0.45);
                lay(pixel, water.crest, crest * (0.22 + 0.25 * near));
            }
        }
    }

    /// Writes the picture as an 8-bit sRGB PNG.
    pub(crate) fn save(&self, path: &Path) -> Result<()> {
        self.write(path).with_context(|| format!("The picture could not be written: {}", path.display()))
    }

    fn write(&self, path: &Path) -> Result<()> {
        let bytes: Vec<u8> = self.pixels.iter().flatten().map(|part| encode(*part)).collect();
        let file = BufWriter::new(File::create(path)?);
        let mut encoder = png::Encoder::new(file, WIDTH as u32, HEIGHT as u32);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
        encoder.set_compression(png::Compression::High);
        encoder.set_filter(png::Filter::Adaptive);
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&bytes)?;
        Ok(writer.finish()?)
    }
}

fn lay(pixel: &mut Linear, colour: Colour, cover: f64) {
    if cover <= 0.0 {
        return;
    }
    let over = colour.linear();
    for part in 0..3 {
        pixel[part] += (over[part] - pixel[part]) * cover.min(1.0);
    }
}

/// Spans of a scan line that the outlines wind around.
fn inside(shape: &Shape, y: f64) -> Vec<(f64, f64)> {
    let mut crossings: Vec<(f64, i32)> = Vec::new();
    for outline in &shape.outlines {
        for (at, &(ax, ay)) in outline.iter().enumerate() {
            let (bx, by) = outline[(at + 1) % outline.len()];
            if (ay <= y) != (by <= y) {
                crossings.push((ax + (y - ay) / (by - ay) * (bx - ax), if ay < by { 1 } else { -1 }));
            }
        }
    }
    crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut spans, mut winding, mut from) = (Vec::new(), 0, 0.0);
    for (x, turn) in crossings {
        if winding == 0 {
            from = x;
        }
        winding += turn;
        if winding == 0 {
            spans.push((from, x));
        }
    }
    spans
}

/// Adds a span's share of each pixel.
fn add(cover: &mut [f64], touched: &mut (usize, usize), from: f64, to: f64) {
    let (from, to) = (from.max(0.0), to.min(cover.len() as f64));
    if from >= to {
        return;
    }
    let (first, last) = (from as usize, (to.ceil() as usize).min(cover.len()));
    *touched = (touched.0.min(first), touched.1.max(last));
    for (x, share) in cover.iter_mut().enumerate().take(last).skip(first) {
        *share += (to.min(x as f64 + 1.0) - from.max(x as f64)) / FINE as f64;
    }
}

/// The picture between pixel centres.
fn sample(pixels: &[Linear], x: f64, y: f64) -> Linear {
    let (x, y) = ((x - 0.5).clamp(0.0, WIDTH as f64 - 1.001), (y - 0.5).clamp(0.0, HEIGHT as f64 - 1.001));
    let (left, top) = (x as usize, y as usize);
    let (u, v) = (x - left as f64, y - top as f64);
    let at = top * WIDTH + left;
    std::array::from_fn(|part| {
        let upper = pixels[at][part] * (1.0 - u) + pixels[at + 1][part] * u;
        let lower = pixels[at + WIDTH][part] * (1.0 - u) + pixels[at + WIDTH + 1][part] * u;
        upper * (1.0 - v) + lower * v
    })
}

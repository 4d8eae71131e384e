//! Drawn pictures, stocks and plain methods to compare with, for tests and benches only.

use crate::{
    problem::{Axis, CellRule, FieldWanted, Problem},
    spaces::{Linear, Srgb8},
};

/// A well-mixed number from another (the finaliser of splitmix64).
fn mix(seed: u64) -> u64 {
    let mut z = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// Noise at the corners of a unit grid, -1.0..=1.0.
fn corner(x: i64, y: i64, seed: u64) -> f32 {
    let n = mix(mix(x as u64 ^ seed.rotate_left(17)) ^ (y as u64).rotate_left(32));
    (n >> 40) as f32 / 8_388_608.0 - 1.0
}

/// Smooth noise between the corners.
fn noise(x: f32, y: f32, seed: u64) -> f32 {
    let (fx, fy) = (x.floor(), y.floor());
    let ease = |t: f32| t * t * (3.0 - 2.0 * t);
    let (tx, ty) = (ease(x - fx), ease(y - fy));
    let (ix, iy) = (fx as i64, fy as i64);
    let top = corner(ix, iy, seed) * (1.0 - tx) + corner(ix + 1, iy, seed) * tx;
    let bottom = corner(ix, iy + 1, seed) * (1.0 - tx) + corner(ix + 1, iy + 1, seed) * tx;
    top * (1.0 - ty) + bottom * ty
}

/// 1/f noise at a point of the unit square.
fn cloud(x: f32, y: f32, seed: u64) -> f32 {
    let mut sum = 0.0;
    let mut scale = 2.5;
    let mut height = 0.5;
    for octave in 0..10 {
        sum += height * noise(x * scale, y * scale, seed + octave);
        scale *= 2.03;
        height *= 0.62;
    }
    sum
}

/// A picture somewhat like a photograph: soft gradients, a few shapes with edges, and detail at all scales.
/// Row after row from the top left; the same for the same arguments.
pub fn photo(cols: u32, rows: u32, seed: u64) -> Vec<Srgb8> {
    let mut cells = Vec::with_capacity(cols as usize * rows as usize);
    for row in 0..rows {
        for col in 0..cols {
            let (x, y) = ((col as f32 + 0.5) / cols as f32, (row as f32 + 0.5) / rows as f32);
            cells.push(photo_at(x, y, seed));
        }
    }
    cells
}

fn photo_at(x: f32, y: f32, seed: u64) -> Srgb8 {
    let light = cloud(x, y, seed);
    let warmth = cloud(x * 0.7 + 3.0, y * 0.7, seed + 101);
    let green = cloud(x * 0.9, y * 0.9 + 7.0, seed + 202);
    // Sky above, ground below, with a rough skyline and a bright disc.
    let skyline = 0.45 + 0.25 * cloud(x, 0.5, seed + 303);
    let (dx, dy) = (x - 0.7, y - 0.2);
    let base = if dx * dx + dy * dy < 0.012 {
        [0.97, 0.85, 0.55]
    } else if y < skyline {
        [0.35 + 0.5 * y, 0.55 + 0.4 * y, 0.85 + 0.1 * y]
    } else {
        [0.42 - 0.2 * y, 0.40 - 0.1 * y, 0.20 - 0.1 * y]
    };
    let value = |v: f32| (v * 255.0 + 0.5).clamp(0.0, 255.0) as u8;
    Srgb8::new(
        value(base[0] + 0.45 * light + 0.22 * warmth),
        value(base[1] + 0.45 * light + 0.18 * green),
        value(base[2] + 0.42 * light - 0.25 * warmth),
    )
}

/// Colours as plastic pieces have them; from the 17th on invented ones.
pub fn palette(count: usize) -> Vec<Srgb8> {
    const PIECES: [u32; 16] = [
        0xf4f4f0, 0x1c1c1e, 0x8a8d8f, 0xc62828, 0x1e4fa3, 0xf7c600, 0x2e7d32, 0xef6c00, 0x5e2a84, 0x6d4526,
        0x8fd0f0, 0xf2a7c0, 0x9ccc3c, 0x00838f, 0xe9d8b4, 0x5a0f1c,
    ];
    (0..count)
        .map(|k| match PIECES.get(k) {
            Some(&key) => Srgb8::from_key(key),
            None => Srgb8::from_key(mix(k as u64 * 7 + 5) as u32 & 0xff_ffff),
        })
        .collect()
}

/// An uneven stock of `cells` x `share` pieces in all.
pub fn uneven_stock(cells: u64, colours: usize, share: f64) -> Vec<u64> {
    let parts: Vec<u64> = (0..colours as u64).map(|k| 2 + mix(k + 40) % 9).collect();
    let sum: u64 = parts.iter().sum();
    let total = (cells as f64 * share).ceil() as u64;
    let mut stock: Vec<u64> = parts.iter().map(|p| total * p / sum).collect();
    stock[0] += total - stock.iter().sum::<u64>();
    stock
}

/// A field of free cells with all colours allowed.
pub fn field(cols: u32, rows: u32, wanted: &[Srgb8], palette: &[Srgb8]) -> FieldWanted {
    FieldWanted {
        cols,
        rows,
        wanted: wanted.iter().map(|c| c.to_linear()).collect(),
        cells: vec![CellRule::Free; wanted.len()],
        palette: palette.iter().map(|c| c.to_linear()).collect(),
        allowed: vec![true; palette.len()],
        weight: 1,
        runs_along: Axis::Cols,
        sigma: [1.0, 1.0],
    }
}

/// One field with a drawn photograph and a short stock of 1.02 pieces a cell:
/// half of it as the picture would want it, half uneven as pieces gather in crates.
pub fn short_problem(cols: u32, rows: u32, colours: usize, seed: u64) -> Problem {
    let cells = u64::from(cols) * u64::from(rows);
    let field = field(cols, rows, &photo(cols, rows, seed), &palette(colours));
    let mut stock = uneven_stock(cells, colours, 0.52);
    let looks: Vec<_> = field.palette.iter().map(|c| c.to_oklab()).collect();
    let mut wants = vec![0; colours];
    for wanted in &field.wanted {
        let seen = wanted.to_oklab();
        let apart = |k: &usize| {
            let (l, a, b) = (looks[*k].l - seen.l, looks[*k].a - seen.a, looks[*k].b - seen.b);
            l * l + a * a + b * b
        };
        if let Some(k) = (0..colours).min_by(|p, q| apart(p).total_cmp(&apart(q))) {
            wants[k] += 1;
        }
    }
    stock.iter_mut().zip(&wants).for_each(|(pieces, wanted)| *pieces += u64::div_ceil(*wanted, 2));
    Problem { fields: vec![field], stock }
}

/// The same picture with a stock of 1.02 pieces a cell that takes no heed of it.
pub fn uneven_problem(cols: u32, rows: u32, colours: usize, seed: u64) -> Problem {
    let field = field(cols, rows, &photo(cols, rows, seed), &palette(colours));
    Problem { fields: vec![field], stock: uneven_stock(u64::from(cols) * u64::from(rows), colours, 1.02) }
}

/// Error diffusion (Floyd and Steinberg 1976) in linear light, serpentine, nearest colour in OKLab;
/// a colour is dropped when it runs out. For fields of free cells.
pub fn diffuse(field: &FieldWanted, stock: &[u64]) -> Vec<u16> {
    let (cols, rows) = (field.cols as usize, field.rows as usize);
    let mut left = stock.to_vec();
    let looks: Vec<_> = field.palette.iter().map(|c| c.to_oklab()).collect();
    let mut light: Vec<[f32; 3]> = field.wanted.iter().map(|c| c.0).collect();
    let mut cells = vec![0; light.len()];
    for row in 0..rows {
        for step in 0..cols {
            let forwards = row % 2 == 0;
            let col = if forwards { step } else { cols - 1 - step };
            let wanted = light[row * cols + col];
            let seen = Linear(wanted.map(|v| v.clamp(0.0, 1.0))).to_oklab();
            let apart = |k: &usize| {
                let c = &looks[*k];
                let (l, a, b) = (c.l - seen.l, c.a - seen.a, c.b - seen.b);
                l * l + a * a + b * b
            };
            let best = (0..left.len()).filter(|&k| left[k] > 0).min_by(|p, q| apart(p).total_cmp(&apart(q)));
            let Some(best) = best else { return cells };
            left[best] -= 1;
            cells[row * cols + col] = best as u16;
            let error: [f32; 3] = std::array::from_fn(|i| wanted[i] - field.palette[best].0[i]);
            let ahead = if forwards { 1 } else { -1 };
            for (dx, dy, share) in
                [(ahead, 0, 7.0 / 16.0), (-ahead, 1, 3.0 / 16.0), (0, 1, 5.0 / 16.0), (ahead, 1, 1.0 / 16.0)]
            {
                let (x, y) = (col as isize + dx, row + dy);
                if (0..cols as isize).contains(&x) && y < rows {
                    let to = &mut light[y * cols + x as usize];
                    (0..3).for_each(|i| to[i] += error[i] * share);
                }
            }
        }
    }
    cells
}

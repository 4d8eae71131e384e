//! Writes drawings as PNG files.

use std::collections::BTreeMap;

use png::{BitDepth, ColorType, Encoder, EncodingError};

use crate::grid_error::GridError;
use crate::look::Raster;

/// Most colours of a PNG palette.
const PALETTE: usize = 256;

/// A drawing as the bytes of a PNG file, tagged sRGB, with a palette if it has at most 256 colours.
///
/// The same drawing always gives the same bytes.
///
/// # Errors
/// [`GridError::RasterSize`] if the number of samples does not fit width and height, or one is 0.
pub fn to_png(raster: &Raster) -> Result<Vec<u8>, GridError> {
    let pixels = raster.rgba.as_chunks::<4>().0;
    let expected = u64::from(raster.width) * u64::from(raster.height);
    let sound = expected > 0 && raster.rgba.len() as u64 == expected * 4;
    let wrong_size =
        || GridError::RasterSize { width: f64::from(raster.width), height: f64::from(raster.height) };
    if !sound {
        return Err(wrong_size());
    }
    let file = match palette(pixels) {
        Some(palette) => indexed(raster, pixels, &palette),
        None if pixels.iter().all(|p| p[3] == u8::MAX) => {
            let rgb: Vec<u8> = pixels.iter().flat_map(|[r, g, b, _]| [*r, *g, *b]).collect();
            whole(raster, ColorType::Rgb, &rgb)
        }
        None => whole(raster, ColorType::Rgba, &raster.rgba),
    };
    file.map_err(|_| wrong_size())
}

/// The colours in order of their values with their numbers, if there are few enough.
fn palette(pixels: &[[u8; 4]]) -> Option<BTreeMap<[u8; 4], u8>> {
    let mut colours = BTreeMap::new();
    let mut last = None;
    for pixel in pixels {
        // Neighbours are mostly equal: skip the search for them.
        if last != Some(pixel) {
            colours.insert(*pixel, 0u8);
            last = Some(pixel);
        }
        if colours.len() > PALETTE {
            return None;
        }
    }
    for (number, entry) in (0..=u8::MAX).zip(colours.values_mut()) {
        *entry = number;
    }
    Some(colours)
}

fn indexed(
    raster: &Raster,
    pixels: &[[u8; 4]],
    palette: &BTreeMap<[u8; 4], u8>,
) -> Result<Vec<u8>, EncodingError> {
    let (depth, bits) = match palette.len() {
        0..=2 => (BitDepth::One, 1),
        3..=4 => (BitDepth::Two, 2),
        5..=16 => (BitDepth::Four, 4),
        _ => (BitDepth::Eight, 8),
    };
    let packed: Vec<u8> = pixels
        .chunks_exact(raster.width as usize)
        .flat_map(|row| {
            row.chunks(8 / bits).map(move |group| {
                let byte = group.iter().fold(0u32, |byte, pixel| byte << bits | u32::from(palette[pixel]));
                // A last group that is not full stands at the upper end of its byte.
                (byte << (8 - bits * group.len())) as u8
            })
        })
        .collect();
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, raster.width, raster.height);
    encoder.set_color(ColorType::Indexed);
    encoder.set_depth(depth);
    encoder.set_source_srgb(png::SrgbRenderingIntent::RelativeColorimetric);
    encoder.set_palette(palette.keys().flat_map(|[r, g, b, _]| [*r, *g, *b]).collect::<Vec<u8>>());
    if palette.keys().any(|p| p[3] != u8::MAX) {
        encoder.set_trns(palette.keys().map(|p| p[3]).collect::<Vec<u8>>());
    }
    encoder.set_filter(png::Filter::NoFilter);
    encoder.write_header()?.write_image_data(&packed)?;
    Ok(file)
}

fn whole(raster: &Raster, color: ColorType, samples: &[u8]) -> Result<Vec<u8>, EncodingError> {
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, raster.width, raster.height);
    encoder.set_color(color);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(png::SrgbRenderingIntent::RelativeColorimetric);
    // A photo gains little from more; whoever waits for the page gains much from less.
    encoder.set_compression(png::Compression::Fast);
    encoder.write_header()?.write_image_data(samples)?;
    Ok(file)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::{PictureLimits, decode};

    fn comes_back(width: u32, colours: u32) {
        let rgba: Vec<u8> = (0..width * 7)
            .flat_map(|i| {
                let c = i % colours;
                [(c % 256) as u8, (c / 256) as u8, 9, 255]
            })
            .collect();
        let raster = Raster { width, height: 7, rgba };
        let file = to_png(&raster).unwrap();
        let picture = decode(&file, &PictureLimits::default()).unwrap();
        assert!(picture.notes().is_empty());
        for (i, want) in raster.rgba.chunks_exact(4).enumerate() {
            let got = picture.rgba16(i as u32 % width, i as u32 / width).unwrap();
            assert_eq!(got.map(|v| (v / 257) as u8), want, "pixel {i} of {width} wide, {colours} colours");
        }
    }

    #[test]
    fn drawings_come_back_unchanged_with_any_number_of_colours() {
        for colours in [1, 2, 3, 4, 5, 16, 17, 256, 257, 400] {
            comes_back(61, colours);
        }
        comes_back(1, 7);
    }

    #[test]
    fn a_drawing_whose_samples_are_missing_is_refused() {
        let short = Raster { width: 2, height: 2, rgba: vec![0; 15] };
        assert!(matches!(to_png(&short), Err(GridError::RasterSize { .. })));
    }
}

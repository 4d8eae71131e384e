//! Applies the colour profile of a file, so that what leaves this module is sRGB.

use moxcms::{ColorProfile, DataColorSpace, Layout, TransformOptions};
use rayon::prelude::*;

use super::{Channels, Picture, PictureError, PictureKind, PictureNote, Pixels, Raw, Samples};

/// Pixels treated at a time: small enough that the copy of a band costs no memory worth naming.
const BAND: usize = 1 << 16;

/// A change of a band of pixels: source samples, target samples.
type Band<T> = Box<dyn Fn(&[T], &mut [T]) + Send + Sync>;

/// Brings the samples to red, green, blue and perhaps alpha in sRGB.
pub(super) fn into_srgb(raw: Raw, kind: PictureKind) -> Result<Picture, PictureError> {
    let Raw { width, height, channels, samples, icc, turn, mut notes } = raw;
    let parsed = icc.as_deref().and_then(|bytes| ColorProfile::new_from_slice(bytes).ok());
    let pixels = match samples {
        Samples::U8(v) => sort8(apply(v, channels, parsed.as_ref()), channels),
        Samples::U16(v) => sort16(apply(v, channels, parsed.as_ref()), channels),
    };
    let (pixels, used) = pixels.ok_or(PictureError::CmykWithoutProfile { kind })?;
    if icc.is_some() && !used {
        notes.push(PictureNote::ProfileNotUsed);
    }
    Ok(Picture { stored_width: width, stored_height: height, pixels, turn, notes })
}

fn has_alpha(channels: Channels) -> bool {
    matches!(channels, Channels::GreyAlpha | Channels::Rgba)
}

fn sort8(applied: Option<(Vec<u8>, bool)>, channels: Channels) -> Option<(Pixels, bool)> {
    applied.map(|(v, used)| (if has_alpha(channels) { Pixels::Rgba8(v) } else { Pixels::Rgb8(v) }, used))
}

fn sort16(applied: Option<(Vec<u16>, bool)>, channels: Channels) -> Option<(Pixels, bool)> {
    applied.map(|(v, used)| (if has_alpha(channels) { Pixels::Rgba16(v) } else { Pixels::Rgb16(v) }, used))
}

/// The samples in sRGB, and whether the profile was used; `None` for inks without a usable profile.
fn apply<T: Depth>(
    samples: Vec<T>,
    channels: Channels,
    profile: Option<&ColorProfile>,
) -> Option<(Vec<T>, bool)> {
    let n = channels.count();
    let out = if has_alpha(channels) { 4 } else { 3 };
    let transform = profile.and_then(|p| T::transform(p, channels));
    let used = transform.is_some();
    let spread = move |from: &[T], to: &mut [T]| spread_grey(from, to, n, out);
    let samples = match (transform, channels) {
        (None, Channels::Cmyk) => return None,
        (None, Channels::Rgb | Channels::Rgba) => samples,
        (None, Channels::Grey | Channels::GreyAlpha) => widened(&samples, n, out, &spread),
        (Some(Step::AsIs), Channels::Rgb | Channels::Rgba) => samples,
        (Some(Step::AsIs), _) => widened(&samples, n, out, &spread),
        (Some(Step::Change(change)), Channels::Rgb | Channels::Rgba) => in_place(samples, n, &change),
        (Some(Step::Change(change)), _) => widened(&samples, n, out, &change),
        (Some(Step::SpreadThenChange(change)), _) => {
            in_place(widened(&samples, n, out, &spread), out, &change)
        }
    };
    Some((samples, used))
}

/// What a profile asks for.
enum Step<T> {
    /// The profile is sRGB within one step of 8 bits: nothing may change.
    AsIs,
    /// From the file's channels straight to sRGB.
    Change(Band<T>),
    /// A grey picture with a colour profile: grey to equal channels first.
    SpreadThenChange(Band<T>),
}

/// Sample widths that a profile can be applied to.
trait Depth: Copy + Default + Send + Sync + 'static {
    /// The change from `profile` to sRGB between two channel layouts.
    fn band(profile: &ColorProfile, from: Layout, to: Layout) -> Option<Band<Self>>;
    /// An 8-bit value in this width.
    fn of_byte(byte: u8) -> Self;
    /// Whether two values differ by at most one step of 8 bits.
    fn near(self, other: Self) -> bool;

    fn transform(profile: &ColorProfile, channels: Channels) -> Option<Step<Self>> {
        let (from, to) = match channels {
            Channels::Grey => (Layout::Gray, Layout::Rgb),
            Channels::GreyAlpha => (Layout::GrayAlpha, Layout::Rgba),
            Channels::Rgb => (Layout::Rgb, Layout::Rgb),
            Channels::Rgba | Channels::Cmyk => {
                (Layout::Rgba, if channels == Channels::Cmyk { Layout::Rgb } else { Layout::Rgba })
            }
        };
        let grey = matches!(channels, Channels::Grey | Channels::GreyAlpha);
        match profile.color_space {
            DataColorSpace::Gray if grey => {
                let band = Self::band(profile, from, to)?;
                Some(if keeps_greys(&band, channels) { Step::AsIs } else { Step::Change(band) })
            }
            DataColorSpace::Rgb if grey => Self::band(profile, to, to).map(Step::SpreadThenChange),
            DataColorSpace::Rgb if channels != Channels::Cmyk => {
                let band = Self::band(profile, from, to)?;
                Some(if keeps_colours(&band, channels) { Step::AsIs } else { Step::Change(band) })
            }
            DataColorSpace::Cmyk if channels == Channels::Cmyk => {
                Self::band(profile, from, to).map(Step::Change)
            }
            _ => None,
        }
    }
}

/// The options of every transform: precision before speed.
fn options() -> TransformOptions {
    TransformOptions { prefer_fixed_point: false, ..TransformOptions::default() }
}

impl Depth for u8 {
    fn band(profile: &ColorProfile, from: Layout, to: Layout) -> Option<Band<u8>> {
        let srgb = ColorProfile::new_srgb();
        let transform = profile.create_transform_8bit(from, &srgb, to, options()).ok()?;
        Some(Box::new(move |src, dst| {
            transform.transform(src, dst).expect("both bands hold whole pixels, the same number");
        }))
    }

    fn of_byte(byte: u8) -> u8 {
        byte
    }

    fn near(self, other: u8) -> bool {
        self.abs_diff(other) <= 1
    }
}

impl Depth for u16 {
    fn band(profile: &ColorProfile, from: Layout, to: Layout) -> Option<Band<u16>> {
        let srgb = ColorProfile::new_srgb();
        let transform = profile.create_transform_16bit(from, &srgb, to, options()).ok()?;
        Some(Box::new(move |src, dst| {
            transform.transform(src, dst).expect("both bands hold whole pixels, the same number");
        }))
    }

    fn of_byte(byte: u8) -> u16 {
        u16::from(byte) * 257
    }

    fn near(self, other: u16) -> bool {
        self.abs_diff(other) <= 257
    }
}

/// Whether the change leaves a 9 x 9 x 9 lattice of colours alone.
fn keeps_colours<T: Depth>(band: &Band<T>, channels: Channels) -> bool {
    let steps: Vec<T> = (0..9u16).map(|i| T::of_byte((i * 255 / 8) as u8)).collect();
    let n = channels.count();
    let mut lattice = Vec::with_capacity(9 * 9 * 9 * n);
    for i in 0..9 * 9 * 9 {
        let pixel = [steps[i / 81], steps[i / 9 % 9], steps[i % 9], T::of_byte(255)];
        lattice.extend_from_slice(&pixel[..n]);
    }
    let mut changed = vec![T::default(); lattice.len()];
    band(&lattice, &mut changed);
    lattice.iter().zip(&changed).all(|(a, b)| a.near(*b))
}

/// Whether the change turns each of 256 greys into three equal channels of the same value.
fn keeps_greys<T: Depth>(band: &Band<T>, channels: Channels) -> bool {
    let n = channels.count();
    let greys: Vec<T> =
        (0..=255u8).flat_map(|v| [T::of_byte(v), T::of_byte(255)].into_iter().take(n)).collect();
    let mut changed = vec![T::default(); 256 * (n + 2)];
    band(&greys, &mut changed);
    let same = |(v, pixel): (&[T], &[T])| pixel[..3].iter().all(|c| c.near(v[0]));
    greys.chunks_exact(n).zip(changed.chunks_exact(n + 2)).all(same)
}

fn spread_grey<T: Copy>(from: &[T], to: &mut [T], n: usize, out: usize) {
    for (source, target) in from.chunks_exact(n).zip(to.chunks_exact_mut(out)) {
        target[..3].fill(source[0]);
        if out == 4 {
            target[3] = source[1];
        }
    }
}

/// Changes `samples` band by band where they lie.
fn in_place<T: Depth>(mut samples: Vec<T>, n: usize, change: &Band<T>) -> Vec<T> {
    samples.par_chunks_mut(BAND * n).for_each(|band| {
        let source = band.to_vec();
        change(&source, band);
    });
    samples
}

/// Changes `samples` with `n` channels into new ones with `out` channels.
fn widened<T: Depth>(
    samples: &[T],
    n: usize,
    out: usize,
    change: &(dyn Fn(&[T], &mut [T]) + Send + Sync),
) -> Vec<T> {
    let mut target = vec![T::default(); samples.len() / n * out];
    target
        .par_chunks_mut(BAND * out)
        .zip(samples.par_chunks(BAND * n))
        .for_each(|(to, from)| change(from, to));
    target
}

//! Files that claim far more than they hold, in little room and time.

use std::process::Command;

use crate::common::{Bench, MILL, png};

fn chunk(kind: &[u8; 4], claimed: u32, data: &[u8]) -> Vec<u8> {
    [&claimed.to_be_bytes()[..], kind, data, &[0; 4]].concat()
}

/// Small pictures that claim to be huge, by name.
fn picture_bombs() -> Vec<(String, Vec<u8>)> {
    let mut bombs = Vec::new();
    let signature = &MILL[..8];
    for (w, h) in [
        (1, 0x7fff_ffff),
        (0x7fff_ffff, 1),
        (60_000, 60_000),
        (0, 5),
        (100_000, 1_001),
        (0x7fff_ffff, 0x7fff_ffff),
        (0xffff_ffff, 0xffff_ffff),
        (60_001, 1),
        (10_001, 10_000),
        (1, 0),
    ] {
        for (depth, colour) in [(1, 0), (8, 2), (16, 6), (8, 3), (16, 4), (7, 9)] {
            let data = [&u32::to_be_bytes(w)[..], &u32::to_be_bytes(h), &[depth, colour, 0, 0, 0]].concat();
            bombs.push((
                format!("png-{w}x{h}-{depth}-{colour}"),
                [signature, &chunk(b"IHDR", 13, &data)].concat(),
            ));
        }
    }
    for kind in [b"tEXt", b"zTXt", b"iTXt", b"iCCP", b"eXIf", b"IDAT", b"PLTE", b"tRNS"] {
        for claimed in [1 << 30, 0x7fff_ffff] {
            let mut png = MILL[..33].to_vec();
            png.extend(chunk(kind, claimed, b"a\0\0x"));
            bombs.push((format!("png-chunk-{}-{claimed}", String::from_utf8_lossy(kind)), png));
        }
    }
    for side in [65_500u16, 65_535, 40_000, 60_001, 0] {
        let mut jpeg = vec![0xff, 0xd8, 0xff, 0xc0, 0, 17, 8];
        jpeg.extend(side.to_be_bytes().into_iter().chain(side.to_be_bytes()));
        jpeg.extend([3, 1, 0x22, 0, 2, 0x11, 1, 3, 0x11, 1]);
        bombs.push((format!("jpeg-{side}"), jpeg));
    }
    for size in [0u32, 20, 0xffff_fff0, 0xffff_ffff] {
        let mut webp =
            [&b"RIFF"[..], &size.to_le_bytes(), b"WEBPVP8X", &10u32.to_le_bytes(), &[0; 4]].concat();
        webp.extend([0xff; 6]);
        bombs.push((format!("webp-{size}"), webp));
    }
    for (entries, next) in [(0xffffu16, 8u32), (1, 8), (0, 0), (2, 8), (2, 0xffff_fff0)] {
        let mut tiff = [&b"II*\0"[..], &8u32.to_le_bytes(), &entries.to_le_bytes()].concat();
        for tag in [256u16, 257] {
            tiff.extend(
                [
                    &tag.to_le_bytes()[..],
                    &4u16.to_le_bytes(),
                    &1u32.to_le_bytes(),
                    &0x7fff_ffffu32.to_le_bytes(),
                ]
                .concat(),
            );
        }
        tiff.extend(next.to_le_bytes());
        bombs.push((format!("tiff-{entries}-{next}"), tiff));
    }
    bombs
}

/// A checksum as PNG wants it (ISO/IEC 15948, annex D).
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

/// A PNG of one pixel with whatever `extra` puts into its header.
fn one_pixel<'a>(extra: impl FnOnce(&mut ::png::Info<'a>)) -> Vec<u8> {
    let mut info = ::png::Info::with_size(1, 1);
    info.color_type = ::png::ColorType::Grayscale;
    info.bit_depth = ::png::BitDepth::Eight;
    extra(&mut info);
    let mut file = Vec::new();
    let encoder = ::png::Encoder::with_info(&mut file, info).unwrap();
    encoder.write_header().unwrap().write_image_data(&[9]).unwrap();
    file
}

/// A progressive JPEG of one flat grey whose refinement is sent again and again (ITU-T T.81, annex G).
fn jpeg_of_scans(side: u16, scans: usize) -> Vec<u8> {
    let segment = |marker: u8, data: &[u8]| {
        [&[0xff, marker][..], &(data.len() as u16 + 2).to_be_bytes(), data].concat()
    };
    let table = |class: u8, symbol: u8| [&[class, 1][..], &[0; 15], &[symbol]].concat();
    let blocks = usize::from(side).div_ceil(8).pow(2);
    let [high, low] = side.to_be_bytes();
    let mut file = [&b"\xff\xd8"[..], &segment(0xdb, &[&[0][..], &[1; 64]].concat())].concat();
    file.extend(segment(0xc2, &[8, high, low, high, low, 1, 1, 0x11, 0]));
    file.extend(segment(0xc4, &table(0x00, 0)));
    file.extend(segment(0xc4, &table(0x10, 0xe0)));
    file.extend(segment(0xda, &[1, 1, 0, 0, 0, 0]));
    file.extend(vec![0; blocks.div_ceil(8)]);
    // One code word says that this and the next 16 383 blocks add nothing.
    let empty = vec![0; (15 * blocks.div_ceil(1 << 14)).div_ceil(8)];
    for _ in 0..scans {
        file.extend(segment(0xda, &[1, 1, 0, 1, 63, 0]));
        file.extend(&empty);
    }
    file.extend(b"\xff\xd9");
    file
}

/// A little-endian TIFF: its directories follow one another, the last names `after` as its successor.
fn tiff_of_pages(pages: u32, after: u32) -> Vec<u8> {
    let entries =
        [(256u16, 1u32), (257, 1), (258, 8), (259, 1), (262, 1), (273, 0), (277, 1), (278, 1), (279, 1)];
    let length = 2 + 12 * entries.len() as u32 + 4;
    let mut file = b"II*\0\x08\0\0\0".to_vec();
    for page in 0..pages {
        file.extend((entries.len() as u16).to_le_bytes());
        for (tag, value) in entries {
            file.extend(
                [&tag.to_le_bytes()[..], &4u16.to_le_bytes(), &1u32.to_le_bytes(), &value.to_le_bytes()]
                    .concat(),
            );
        }
        let next = if page + 1 < pages { 8 + (page + 1) * length } else { after };
        file.extend(next.to_le_bytes());
    }
    file
}

/// Pictures that hold far more than they show; a program may take them or refuse them, but must answer.
fn packed_bombs() -> Vec<(&'static str, Vec<u8>)> {
    let zeros = vec![0u8; 64 << 20];
    let profile = one_pixel(|info| info.icc_profile = Some((&zeros[..]).into()));
    let text = String::from_utf8(zeros.clone()).unwrap();
    let comment = one_pixel(|info| {
        info.compressed_latin1_text.push(::png::text_metadata::ZTXtChunk::new("Comment", text));
    });
    // 25 million pixels behind a header that tells of one.
    let mut overfull = png(5_000, 5_000, &vec![[7, 7, 7]; 25_000_000]);
    overfull[16..24].copy_from_slice(&[0, 0, 0, 1, 0, 0, 0, 1]);
    let sum = crc(&overfull[12..29]);
    overfull[29..33].copy_from_slice(&sum.to_be_bytes());
    for (what, file) in [("profile", &profile), ("comment", &comment), ("overfull", &overfull)] {
        assert!(file.len() < 1 << 20, "{what}: {}", file.len());
    }
    vec![
        ("png-packed-profile", profile),
        ("png-packed-comment", comment),
        ("png-overfull", overfull),
        ("tiff-of-100000-pages", tiff_of_pages(100_000, 0)),
        ("tiff-in-a-circle", tiff_of_pages(1, 8)),
        ("tiff-in-a-wide-circle", tiff_of_pages(1_000, 8)),
        ("jpeg-of-60-scans", jpeg_of_scans(4_000, 60)),
        ("jpeg-of-5000-scans", jpeg_of_scans(4_000, 5_000)),
    ]
}

/// Lists and plans that claim far more than they hold.
fn text_bombs() -> Vec<(&'static str, String)> {
    let field = |lanes: &str| {
        format!(
            "format = 1\nname = \"x\"\n\n[[kind]]\nname = \"S\"\n\n[[item]]\nis = \"field\"\nname = \"f\"\nkind = \"S\"\nlanes = 2\nranks = 9\n\n[item.cells]\nlanes = [{lanes}]\n"
        )
    };
    vec![
        ("plan.toml", format!("format = 1\nx = {}", "[".repeat(200_000))),
        (
            "plan.toml",
            format!("format = 1\n{}", (0..300_000).map(|i| format!("k{i} = 1\n")).collect::<String>()),
        ),
        ("plan.toml", format!("format = 1\nname = \"{}\"", "n".repeat(4 << 20))),
        ("plan.toml", field("\"S999999999999\"")),
        ("plan.toml", field(&"\".99999999\", ".repeat(1_000))),
        ("plan.toml", format!("format = 1\n{}", "[a.b.c.d.e.f.g.h]\n".repeat(100_000))),
        ("plan.toml", format!("format = 1\n{}a = 1\n", "a.".repeat(200_000))),
        ("plan.toml", format!("format = 1\n[{}a]\n", "a.".repeat(200_000))),
        ("plan.toml", format!("format = 1\nx = {}", "{a=".repeat(200_000))),
        ("plan.toml", format!("format = 1\nname = \"x\"\n{}", "[[item]]\n".repeat(300_000))),
        ("plan.toml", format!("format = 1\nname = \"x\"\nitem = [{}]\n", "{},".repeat(400_000))),
        ("plan.toml", format!("format = 1\nx = [{}]\n", "1,".repeat(16_000_000))),
        ("stock.csv", format!("name,code,hex,count\n{}", ",".repeat(1_000_000))),
        ("stock.csv", format!("name,code,hex,count\n{},A,#000000,1\n", "n".repeat(4 << 20))),
        ("stock.csv", format!("name,code,hex,count\n{}", "a,A,#000000,1\n".repeat(250_000))),
        ("stock.csv", format!("name,code,hex,count\n\"{}", "a\n".repeat(1_000_000))),
        ("stock.csv", "\0".repeat(1 << 20)),
        ("stock.csv", "\"".repeat(4 << 20)),
        (
            "stock.csv",
            format!("name;code;hex;count\n{}", "A;A;#000000;99999999999999999999\n".repeat(50_000)),
        ),
        ("stock.csv", format!("{}\n", "name,".repeat(500_000))),
        ("plan.toml", format!("format = 1\nname = \"x\"\n{} = 1\n", "k".repeat(8 << 20))),
        ("plan.toml", format!("format = {}", "9".repeat(1 << 20))),
        ("plan.toml", format!("format = 1\nname = \"\"\"{}", "\"\"\\n".repeat(500_000))),
    ]
}

/// In so much address space, in KiB, every bomb must be refused in words.
const ROOM_KIB: u32 = 256 * 1024;
/// In so much processor time, in seconds.
const SECONDS: u32 = 5;

#[cfg(unix)]
fn confined(bench: &Bench, args: &[&str]) -> (Option<i32>, String) {
    let limits = format!("ulimit -v {ROOM_KIB}; ulimit -t {SECONDS}; exec \"$@\"");
    let mut command = Command::new("sh");
    command.args(["-c", &limits, "sh", env!("CARGO_BIN_EXE_standfast")]).args(args).current_dir(bench.path());
    // Two workers and one heap: the stack of a thread, and the 64 MiB that the C library sets aside for each thread's
    // heap, count as address space although nobody uses them.
    let output = command.env("RAYON_NUM_THREADS", "2").env("MALLOC_ARENA_MAX", "1").output().unwrap();
    (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[cfg(unix)]
#[test]
fn bombs_are_refused_in_words_within_little_room_and_time() {
    let bench = Bench::new();
    bench.file("good.csv", "name,code,hex,count\nWhite,W,#ffffff,500\n");
    bench.file("good.png", png(1, 1, &[[9, 9, 9]]));
    let fits = confined(&bench, &["picture", "good.png", "--stock", "good.csv", "--cells", "9x9", "-q"]);
    assert_eq!(fits.0, Some(0), "the room is enough for what is sound: {}", fits.1);
    let (mut tried, mut answered) = (0, 0);
    let mut refused = |what: &str, (status, said): (Option<i32>, String)| {
        assert_eq!(status, Some(2), "{what}: {said}");
        assert!(!said.contains("panicked") && said.trim_end().ends_with('.'), "{what}: {said}");
        tried += 1;
    };
    for (what, bytes) in picture_bombs() {
        bench.file("bomb", bytes);
        refused(&what, confined(&bench, &["picture", "bomb", "--stock", "good.csv", "--cells", "9x9"]));
    }
    for (what, bytes) in packed_bombs() {
        bench.file("bomb", bytes);
        let (status, said) = confined(&bench, &["picture", "bomb", "--stock", "good.csv", "--cells", "9x9"]);
        assert!(matches!(status, Some(0 | 2)) && !said.contains("panicked"), "{what}: {status:?} {said}");
        answered += 1;
    }
    for (what, text) in text_bombs() {
        bench.file(what, text);
        let args: &[&str] = if what == "plan.toml" {
            &["check", "plan.toml"]
        } else {
            &["picture", "good.png", "--stock", "stock.csv", "--cells", "9x9"]
        };
        refused(what, confined(&bench, args));
        std::fs::remove_file(bench.path().join(what)).unwrap();
    }
    assert!(tried + answered >= 120, "{tried} + {answered}");
}

#[test]
fn a_side_above_the_limit_is_refused_although_the_picture_is_sound() {
    let bench = Bench::new();
    bench.file("good.csv", "name,code,hex,count\nWhite,W,#ffffff,500\n");
    let run = |side: u32| {
        bench.file("long.png", png(side, 1, &vec![[9, 9, 9]; side as usize]));
        bench.run(&["picture", "long.png", "--stock", "good.csv", "--cells", "9x9", "-q"])
    };
    run(60_000).ended(0);
    run(60_001).refused(&["long.png", "60\u{a0}001"]);
}

/// A sound PNG of one bit a pixel, all black: some hundred kilobytes at most, whatever its size.
#[cfg(unix)]
fn black(width: u32, height: u32) -> Vec<u8> {
    let mut file = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut file, width, height);
    encoder.set_color(::png::ColorType::Grayscale);
    encoder.set_depth(::png::BitDepth::One);
    let row = width.div_ceil(8) as usize;
    encoder.write_header().unwrap().write_image_data(&vec![0; row * height as usize]).unwrap();
    file
}

#[cfg(unix)]
#[test]
fn pixels_above_the_limit_are_refused_although_the_picture_is_small_and_sound() {
    let bench = Bench::new();
    bench.file("good.csv", "name,code,hex,count\nWhite,W,#ffffff,500\n");
    let large = black(10_001, 10_000);
    assert!(large.len() < 1 << 20, "{}", large.len());
    bench.file("large.png", large);
    let (status, said) =
        confined(&bench, &["picture", "large.png", "--stock", "good.csv", "--cells", "9x9", "-q"]);
    assert_eq!(status, Some(2), "{said}");
    assert!(said.contains("large.png") && said.contains("100 megapixels"), "{said}");
}

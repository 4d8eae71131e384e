//! Names of picture files: bare names that stay inside the plan's folder on every system.

use std::collections::BTreeSet;

use plan::Picture;

/// Names that the folder itself needs.
const OURS: [&str; 2] = ["plan.toml", "stock.csv"];
/// The longest name that every file system takes, in bytes, with room for a number in front.
const LONGEST: usize = 200;

/// Why a file name in a text plan is refused, as the rest of a sentence; `None` when it is fine.
pub(super) fn fault(name: &str) -> Option<&'static str> {
    let drive = name.as_bytes().get(1) == Some(&b':');
    if name.contains(['/', '\\']) || drive || name == ".." || name == "." {
        return Some("leads out of the plan's folder");
    }
    if name.trim().is_empty() || name.chars().any(char::is_control) || name.len() > 255 {
        return Some("is not a file name");
    }
    if OURS.contains(&name.to_lowercase().as_str()) {
        return Some("is not a picture");
    }
    None
}

/// A file name for each picture, none twice also where case does not count.
pub(super) fn names(pictures: &[Picture]) -> Vec<String> {
    let mut taken: BTreeSet<String> = OURS.iter().map(|s| (*s).to_owned()).collect();
    let mut out = Vec::with_capacity(pictures.len());
    for picture in pictures {
        let safe = safe(&picture.name);
        let mut name = safe.clone();
        let mut n = 1;
        while !taken.insert(name.to_lowercase()) {
            n += 1;
            name = format!("{n}-{safe}");
        }
        out.push(name);
    }
    out
}

/// The name with every sign replaced that some file system does not take.
fn safe(name: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() || matches!(c, '.' | '_' | '-' | ' ') { c } else { '_' };
    let mut name: String = name.chars().map(plain).collect();
    if name.len() > LONGEST {
        // The end is kept, since it says what sort of file it is.
        let from = (name.len() - LONGEST..).find(|&i| name.is_char_boundary(i)).unwrap_or(0);
        name = name.split_off(from);
    }
    let name = name.trim_matches([' ', '.']);
    let stem = name.split('.').next().unwrap_or("").to_uppercase();
    let device = matches!(stem.as_str(), "" | "CON" | "PRN" | "AUX" | "NUL")
        || (stem.len() == 4 && (stem.starts_with("COM") || stem.starts_with("LPT")));
    if device { format!("picture-{name}") } else { name.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_lead_elsewhere_are_refused() {
        for bad in ["../x.png", "/etc/passwd", "a\\b.png", "C:x.png", "..", ".", "", " ", "Plan.toml", "a\nb"]
        {
            assert!(fault(bad).is_some(), "{bad}");
        }
        for good in ["mill.png", "The mill (2).png", "..mill.png", "mühle.jpg"] {
            assert_eq!(fault(good), None, "{good}");
        }
    }

    #[test]
    fn pictures_of_one_name_get_files_of_their_own() {
        let picture = |id, name: &str| Picture {
            id: plan::PictureId(id),
            name: name.into(),
            sha256: "0".repeat(64),
            width: 1,
            height: 1,
        };
        let names = names(&[
            picture(1, "mill.png"),
            picture(2, "MILL.png"),
            picture(3, "nul.png"),
            picture(4, "a:b.png"),
            picture(5, "stock.csv"),
            picture(6, "..."),
        ]);
        assert_eq!(
            names,
            ["mill.png", "2-MILL.png", "picture-nul.png", "a_b.png", "2-stock.csv", "picture-"]
        );
        assert!(names.iter().all(|n| fault(n).is_none()));
    }
}

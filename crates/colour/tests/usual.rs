//! The usual pieces with which a plan may begin: colours that nobody confuses, in any of the lights that are tried.

#![allow(clippy::unwrap_used, reason = "a test that cannot read its list fails")]

use colour::{CONFUSION_LIMIT, Srgb8, confusions};

#[test]
fn no_two_of_the_usual_colours_get_confused() {
    // The pages offer them; the list stands there once.
    let list = include_str!("../../../web/src/kernels/usual.ts");
    let hex = list.split("\"#").skip(1).map(|rest| u32::from_str_radix(&rest[..6], 16).unwrap());
    let [r, g, b] = [16, 8, 0].map(|shift| move |n: u32| (n >> shift) as u8);
    let colours: Vec<_> = hex.map(|n| Srgb8::new(r(n), g(n), b(n)).to_linear()).collect();
    assert_eq!(colours.len(), 10);
    assert_eq!(confusions(&colours, CONFUSION_LIMIT), []);
}

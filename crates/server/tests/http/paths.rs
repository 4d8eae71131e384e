//! Addresses that try to reach files outside the workbench.

use crate::support::{Dice, House};

/// Whether the answer is one of the workbench's own pages or a refusal, and nothing of the machine's.
fn is_harmless(house: &House, path: &str) -> Result<(), String> {
    let answer = house.get(path);
    let text = answer.text();
    let index = String::from_utf8_lossy(web_assets::file("index.html").expect("a page").bytes).into_owned();
    match answer.status {
        200 if text == index => Ok(()),
        200 if web_assets::paths()
            .any(|own| web_assets::file(own).is_some_and(|a| a.bytes == answer.body)) =>
        {
            Ok(())
        }
        400 | 403 | 404 | 405 | 414 if !text.contains("root:") && !text.contains("[workspace]") => Ok(()),
        // The parser refuses what is no address at all, without a body.
        400 | 431 | 0 => Ok(()),
        status => Err(format!("{status} for {path:?}: {text}")),
    }
}

#[test]
fn two_thousand_paths_read_nothing_outside() {
    let house = House::shut();
    let mut dice = Dice(22);
    let steps = [
        "..",
        ".",
        "%2e%2e",
        "%2E%2e",
        ".%2e",
        "..%00",
        "..;",
        "...",
        "%252e%252e",
        "..%c0%af",
        "%c0%ae%c0%ae",
        "..\\",
        "%5c..",
        "..%5c",
        "assets",
        "read",
        "api",
        "",
        "~root",
        "%00",
        "C:",
        "file:",
        "\u{2025}",
        "..%ef%bc%8f",
    ];
    let slashes = ["/", "//", "/./", "%2f", "%2F", "\\", "%5c", "/%2f/", "%252f"];
    let goals = [
        "etc/passwd",
        "Cargo.toml",
        "crates/server/Cargo.toml",
        "proc/self/environ",
        "index.html",
        "windows/win.ini",
        ".git/config",
        "etc/passwd%00.html",
        "etc/passwd?x=.js",
        "etc/passwd#.png",
        "plan.standfast",
    ];
    let mut faults = Vec::new();
    for _ in 0..2000 {
        let mut path = String::from("/");
        for _ in 0..1 + dice.below(8) {
            path.push_str(dice.pick(&steps));
            path.push_str(dice.pick(&slashes));
        }
        path.push_str(dice.pick(&goals));
        faults.extend(is_harmless(&house, &path).err());
    }
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn pages_have_plain_addresses_and_files_are_exact() {
    let house = House::shut();
    for page in ["/", "/read", "/read/3/12?side=drawn", "/join", "/stock", "/sheets", "/picture/4"] {
        let answer = house.get(page);
        assert_eq!(answer.status, 200, "{page}");
        assert_eq!(answer.header("content-type"), Some("text/html; charset=utf-8"));
        assert_eq!(answer.header("cache-control"), Some("no-cache"));
        let tag = answer.header("etag").expect("a tag").to_owned();
        let again = house.ask("GET", page, &[("Host", &house.host()), ("If-None-Match", &tag)], b"");
        assert_eq!((again.status, again.body.len()), (304, 0));
    }
    for absent in
        ["/favicon.png", "/assets/nothing.js", "/read/a.b", "/api", "/api/", "/api/x/y", "/apix.y", "/a%20b"]
    {
        assert_eq!(house.get(absent).status, 404, "{absent}");
    }
    for own in web_assets::paths().filter(|own| own.starts_with("assets/")) {
        let answer = house.get(&format!("/{own}"));
        assert_eq!(answer.header("cache-control"), Some("private, max-age=31536000, immutable"));
    }
}

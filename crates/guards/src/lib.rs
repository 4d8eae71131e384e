//! Switches that let a test take one of our own guards away and see that it is missed.
//!
//! A guard that nobody misses is decoration: it may have been broken for a year.
//! So every guard that keeps a plan or a hall safe asks [`Guard::stands`] before it acts.
//! In a release build the answer is always yes, known at compile time, and the question costs nothing.
//! In a debug build the environment variable `STANDFAST_GUARD_OFF` may name one guard that is to be taken out;
//! `cargo xtask guards` does so for each line of `xtask/guards.txt` and expects the test named there to fail.
//!
//! This is the one place below the desk that looks at the environment, and only in debug builds.

/// Name of the variable that takes one guard out of a debug build.
pub const VARIABLE: &str = "STANDFAST_GUARD_OFF";

/// Something that must stand in the way of a loss, a break-in or a wrong sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Guard {
    /// The project file is written with full synchronisation, so that a power cut loses nothing acknowledged.
    SyncFull,
    /// A command is acknowledged only after its journal entry is committed.
    AckAfterCommit,
    /// Each journal entry carries the hash of the one before it.
    HashChain,
    /// The last acknowledged number beside the file is compared when the file is opened.
    SidecarCheck,
    /// A request must name a host of the list.
    HostList,
    /// A request or socket that names an origin must name one of the list.
    OriginList,
    /// A listener that does not read fast enough is dropped instead of filling the memory.
    QueueLimit,
    /// A message or upload above its limit is refused.
    BodyLimit,
    /// A role may do only what its role allows.
    RoleCheck,
    /// Guesses of a role code are limited per address and in all.
    CodeLimit,
    /// A picture's declared size is judged before any pixel is decoded.
    PictureSizeFirst,
    /// Text of the plan is escaped before it becomes markup.
    TextEscape,
    /// A path named by a plan or a request stays inside its folder.
    PathInside,
    /// A project file of a newer version is refused and left untouched.
    NewerVersion,
}

impl Guard {
    /// Every guard, in the order of the declaration.
    pub const ALL: [Guard; 14] = [
        Guard::SyncFull,
        Guard::AckAfterCommit,
        Guard::HashChain,
        Guard::SidecarCheck,
        Guard::HostList,
        Guard::OriginList,
        Guard::QueueLimit,
        Guard::BodyLimit,
        Guard::RoleCheck,
        Guard::CodeLimit,
        Guard::PictureSizeFirst,
        Guard::TextEscape,
        Guard::PathInside,
        Guard::NewerVersion,
    ];

    /// The name used in `xtask/guards.txt` and in `STANDFAST_GUARD_OFF`.
    pub const fn name(self) -> &'static str {
        match self {
            Guard::SyncFull => "sync-full",
            Guard::AckAfterCommit => "ack-after-commit",
            Guard::HashChain => "hash-chain",
            Guard::SidecarCheck => "sidecar-check",
            Guard::HostList => "host-list",
            Guard::OriginList => "origin-list",
            Guard::QueueLimit => "queue-limit",
            Guard::BodyLimit => "body-limit",
            Guard::RoleCheck => "role-check",
            Guard::CodeLimit => "code-limit",
            Guard::PictureSizeFirst => "picture-size-first",
            Guard::TextEscape => "text-escape",
            Guard::PathInside => "path-inside",
            Guard::NewerVersion => "newer-version",
        }
    }

    /// Whether the guard is in place: always in a release build,
    /// and in a debug build unless the environment takes this one out.
    #[cfg(not(debug_assertions))]
    #[inline(always)]
    pub fn stands(self) -> bool {
        true
    }

    /// Whether the guard is in place: always in a release build,
    /// and in a debug build unless the environment takes this one out.
    #[cfg(debug_assertions)]
    pub fn stands(self) -> bool {
        use std::sync::OnceLock;
        static OFF: OnceLock<Option<String>> = OnceLock::new();
        stands_against(self, OFF.get_or_init(|| std::env::var(VARIABLE).ok()).as_deref())
    }
}

/// The rule itself, apart from the environment.
#[cfg(any(debug_assertions, test))]
fn stands_against(guard: Guard, off: Option<&str>) -> bool {
    off != Some(guard.name())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_kebab_case() {
        let mut names: Vec<_> = Guard::ALL.iter().map(|guard| guard.name()).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Guard::ALL.len());
        assert!(names.iter().all(|name| name.bytes().all(|b| b.is_ascii_lowercase() || b == b'-')));
    }

    #[test]
    fn only_the_named_guard_is_taken_out() {
        for off in Guard::ALL {
            for guard in Guard::ALL {
                assert_eq!(stands_against(guard, Some(off.name())), guard != off);
            }
        }
        assert!(Guard::ALL.iter().all(|guard| stands_against(*guard, None)));
        assert!(Guard::ALL.iter().all(|guard| stands_against(*guard, Some("no-such-guard"))));
    }
}

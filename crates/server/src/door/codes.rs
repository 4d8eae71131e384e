//! Codes that let tablets in, and tokens that say who has been let in.

use std::collections::{HashMap, VecDeque};

use crate::limits;
use crate::wire::Role;

/// Signs of a code. Left out: 0 and O, 1, I and L, 2 and Z, 5 and S, 8 and B, G (6), U (V).
const SIGNS: &[u8; 23] = b"ACDEFHJKMNPQRTVWXY34679";

/// Signs of the crew's code: 23^8 is 78 thousand million.
const CREW: usize = 8;
/// Signs of the planner's code.
const PLANNER: usize = 12;

/// The two codes of a run of the server, which die with it.
#[derive(Debug, Clone)]
pub(crate) struct Codes {
    crew: String,
    planner: String,
}

impl Codes {
    /// New codes from the operating system's random source.
    pub(crate) fn draw() -> Result<Self, getrandom::Error> {
        Ok(Codes { crew: draw(CREW)?, planner: draw(PLANNER)? })
    }

    /// The crew's code, in groups of four.
    pub(crate) fn crew(&self) -> String {
        grouped(&self.crew)
    }

    /// The planner's code, in groups of four.
    pub(crate) fn planner(&self) -> String {
        grouped(&self.planner)
    }

    /// The role that a typed code stands for. Case, spaces and hyphens do not matter.
    /// Both codes are compared in full every time, so that the time taken tells nothing.
    pub(crate) fn role(&self, typed: &str) -> Option<Role> {
        let typed: String =
            typed.chars().filter(|sign| !matches!(sign, ' ' | '-')).map(|s| s.to_ascii_uppercase()).collect();
        let planner = same(typed.as_bytes(), self.planner.as_bytes());
        let crew = same(typed.as_bytes(), self.crew.as_bytes());
        match (planner, crew) {
            (true, _) => Some(Role::Planner),
            (_, true) => Some(Role::Crew),
            _ => None,
        }
    }
}

/// Clients that have been let in: token to role. In memory only.
#[derive(Debug, Default)]
pub(crate) struct Sessions {
    roles: HashMap<String, Role>,
    order: VecDeque<String>,
}

impl Sessions {
    /// A new token of 256 random bits for a role.
    pub(crate) fn open(&mut self, role: Role) -> Result<String, getrandom::Error> {
        let mut bytes = [0u8; 32];
        getrandom::fill(&mut bytes)?;
        let token: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        if self.order.len() >= limits::SESSIONS
            && let Some(oldest) = self.order.pop_front()
        {
            self.roles.remove(&oldest);
        }
        self.order.push_back(token.clone());
        self.roles.insert(token.clone(), role);
        Ok(token)
    }

    /// The role of a token.
    pub(crate) fn role(&self, token: &str) -> Option<Role> {
        self.roles.get(token).copied()
    }
}

/// Whether two texts are the same, in a time that depends on the length of the typed one alone.
fn same(typed: &[u8], code: &[u8]) -> bool {
    let mut apart = typed.len() ^ code.len();
    for (at, sign) in typed.iter().enumerate() {
        let wanted = code[at % code.len()];
        apart |= usize::from(std::hint::black_box(sign ^ wanted));
    }
    std::hint::black_box(apart) == 0
}

fn draw(signs: usize) -> Result<String, getrandom::Error> {
    let mut code = String::new();
    let mut byte = [0u8; 1];
    // Bytes above the largest multiple of the number of signs are drawn again, so that all are equally likely.
    let fair = 256 - 256 % SIGNS.len();
    while code.len() < signs {
        getrandom::fill(&mut byte)?;
        let value = usize::from(byte[0]);
        if value < fair {
            code.push(char::from(SIGNS[value % SIGNS.len()]));
        }
    }
    Ok(code)
}

fn grouped(code: &str) -> String {
    let signs: Vec<char> = code.chars().collect();
    signs.chunks(4).map(|group| group.iter().collect::<String>()).collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_known_however_it_is_spelled_and_nothing_else_is() {
        let codes = Codes::draw().unwrap();
        assert_eq!(codes.role(&codes.crew()), Some(Role::Crew));
        assert_eq!(codes.role(&codes.planner().to_lowercase().replace('-', " ")), Some(Role::Planner));
        for wrong in ["", "-", &codes.crew()[1..], &format!("{}A", codes.crew()), &codes.crew().repeat(2)] {
            assert_eq!(codes.role(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn codes_are_long_have_no_look_alikes_and_differ() {
        let mut seen = std::collections::BTreeSet::new();
        for _ in 0..200 {
            let codes = Codes::draw().unwrap();
            for (code, length) in [(codes.crew, CREW), (codes.planner, PLANNER)] {
                assert_eq!(code.len(), length);
                assert!(code.chars().all(|sign| !"01258OILZSBGU".contains(sign)), "{code}");
                assert!(seen.insert(code));
            }
        }
    }

    #[test]
    fn the_table_of_sessions_forgets_the_oldest_first() {
        let mut sessions = Sessions::default();
        let first = sessions.open(Role::Planner).unwrap();
        let second = sessions.open(Role::Crew).unwrap();
        for _ in 0..limits::SESSIONS - 1 {
            sessions.open(Role::Crew).unwrap();
        }
        assert_eq!(sessions.role(&first), None);
        assert_eq!(sessions.role(&second), Some(Role::Crew));
        assert_eq!((sessions.roles.len(), sessions.order.len()), (limits::SESSIONS, limits::SESSIONS));
    }
}

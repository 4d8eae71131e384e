//! Slows the guessing of codes down, per address and in all, without locking the right code out.
//!
//! Only wrong codes count. An address has ten of them, then one a minute.
//! When fifty wrong codes came within a minute from anywhere, an address that has already guessed wrong
//! waits, while one with a clean record still has its first try: a tablet that knows the code gets in at once.
//! Times are given from outside, so that a test can let an hour pass.

use std::collections::{HashMap, VecDeque};
use std::net::IpAddr;
use std::time::Duration;

use guards::Guard;

/// Wrong codes that an address may try at once.
const TRIES: u32 = 10;
/// Time in which an address regains one try.
const REGAIN: Duration = Duration::from_secs(60);
/// Wrong codes a minute from all addresses before the brake goes on.
const IN_ALL: usize = 50;
/// The minute of [`IN_ALL`].
const WINDOW: Duration = Duration::from_secs(60);
/// Addresses that are remembered; the longest untouched is forgotten first.
const ADDRESSES: usize = 4096;

/// What is remembered of an address.
#[derive(Debug, Clone, Copy)]
struct Record {
    /// Wrong codes not yet forgiven.
    wrong: u32,
    /// Since when the next one is being forgiven.
    since: Duration,
}

/// Wrong codes so far.
#[derive(Debug, Default)]
pub(crate) struct Brake {
    records: HashMap<IpAddr, Record>,
    recent: VecDeque<Duration>,
}

impl Brake {
    /// Whether an address may try a code now; otherwise the seconds until it may.
    pub(crate) fn may_try(&mut self, from: IpAddr, now: Duration) -> Result<(), u64> {
        if !Guard::CodeLimit.stands() {
            return Ok(());
        }
        let from = bucket(from);
        self.forgive(from, now);
        let Some(record) = self.records.get(&from) else { return Ok(()) };
        if record.wrong >= TRIES {
            return Err(wait(record.since + REGAIN, now));
        }
        match self.recent.front() {
            Some(first) if self.recent.len() >= IN_ALL => Err(wait(*first + WINDOW, now)),
            _ => Ok(()),
        }
    }

    /// Notes a wrong code.
    pub(crate) fn wrong(&mut self, from: IpAddr, now: Duration) {
        let from = bucket(from);
        if self.records.len() >= ADDRESSES && !self.records.contains_key(&from) {
            let oldest = self.records.iter().min_by_key(|(addr, record)| (record.since, **addr));
            if let Some(oldest) = oldest.map(|(addr, _)| *addr) {
                self.records.remove(&oldest);
            }
        }
        let record = self.records.entry(from).or_insert(Record { wrong: 0, since: now });
        record.wrong = (record.wrong + 1).min(TRIES);
        self.recent.push_back(now);
        while self.recent.len() > IN_ALL {
            self.recent.pop_front();
        }
    }

    /// Forgives what time has healed.
    fn forgive(&mut self, from: IpAddr, now: Duration) {
        while self.recent.front().is_some_and(|first| now >= *first + WINDOW) {
            self.recent.pop_front();
        }
        if let Some(record) = self.records.get_mut(&from) {
            while record.wrong > 0 && now >= record.since + REGAIN {
                record.wrong -= 1;
                record.since += REGAIN;
            }
            if record.wrong == 0 {
                self.records.remove(&from);
            }
        }
    }
}

/// One tablet owns a whole /64 of IPv6 addresses, so these count as one.
fn bucket(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(address) => {
            let network = address.to_bits() & !u128::from(u64::MAX);
            IpAddr::V6(network.into())
        }
        v4 => v4,
    }
}

/// Seconds from now until then, at least one.
fn wait(then: Duration, now: Duration) -> u64 {
    then.saturating_sub(now).as_millis().div_ceil(1000).max(1) as u64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::door::codes::Codes;
    use crate::wire::Role;

    fn seconds(n: f64) -> Duration {
        Duration::from_secs_f64(n)
    }

    fn address(n: u32) -> IpAddr {
        IpAddr::from(std::net::Ipv4Addr::from(0xC0A8_0000 + n))
    }

    /// Lets each of `guessers` guess as fast as it may for `guesses` tries; how many were even compared.
    fn attack(brake: &mut Brake, codes: &Codes, guessers: u32, guesses: u32) -> (u32, u32) {
        let (mut compared, mut hits) = (0, 0);
        for n in 0..guesses {
            // A thousand guesses a second.
            let now = seconds(f64::from(n) / 1000.0);
            let from = address(1 + n % guessers);
            if brake.may_try(from, now).is_ok() {
                compared += 1;
                match codes.role(&format!("AAAA{n:04}")) {
                    Some(_) => hits += 1,
                    None => brake.wrong(from, now),
                }
            }
        }
        (compared, hits)
    }

    #[test]
    fn ten_thousand_guesses_get_nowhere_and_the_right_code_still_gets_in() {
        let codes = Codes::draw().unwrap();
        for (guessers, most) in [(1, 10), (50, 100)] {
            let mut brake = Brake::default();
            let (compared, hits) = attack(&mut brake, &codes, guessers, 10_000);
            assert_eq!(hits, 0);
            assert!(compared <= most, "{guessers} addresses had {compared} guesses compared");
            // In the midst of the attack a tablet that knows the code is let in at its first try.
            let now = seconds(10.0);
            assert_eq!(brake.may_try(address(77_000), now), Ok(()));
            assert_eq!(codes.role(&codes.crew()), Some(Role::Crew));
            // The attackers are told how long to wait, and never longer than a minute.
            assert!(matches!(brake.may_try(address(1), now), Err(1..=60)));
        }
    }

    #[test]
    fn an_address_has_ten_tries_and_then_one_a_minute() {
        let mut brake = Brake::default();
        for n in 0..10 {
            assert_eq!(brake.may_try(address(1), seconds(f64::from(n))), Ok(()));
            brake.wrong(address(1), seconds(f64::from(n)));
        }
        assert_eq!(brake.may_try(address(1), seconds(10.0)), Err(50));
        assert_eq!(brake.may_try(address(1), seconds(60.0)), Ok(()));
        brake.wrong(address(1), seconds(60.0));
        assert!(brake.may_try(address(1), seconds(61.0)).is_err());
        assert_eq!(brake.may_try(address(1), seconds(120.0)), Ok(()));
    }

    #[test]
    fn sixty_tablets_behind_one_address_get_in_with_the_right_code() {
        let mut brake = Brake::default();
        for n in 0..60 {
            // A right code is never noted, so trying it costs nothing.
            assert_eq!(brake.may_try(address(9), seconds(f64::from(n) / 100.0)), Ok(()));
        }
    }

    #[test]
    fn addresses_of_one_network_of_ipv6_count_as_one() {
        let mut brake = Brake::default();
        for n in 0..10u128 {
            brake.wrong(IpAddr::V6((0xfd00_u128 << 112 | n).into()), seconds(0.0));
        }
        assert!(brake.may_try(IpAddr::V6((0xfd00_u128 << 112 | 4711).into()), seconds(1.0)).is_err());
        assert!(brake.may_try("::ffff:192.168.0.4".parse().unwrap(), seconds(1.0)).is_ok());
    }

    #[test]
    fn the_memory_of_addresses_is_bounded() {
        let mut brake = Brake::default();
        for n in 0..20_000 {
            brake.wrong(address(n), seconds(f64::from(n)));
        }
        assert_eq!(brake.records.len(), ADDRESSES);
        assert_eq!(brake.recent.len(), IN_ALL);
    }
}

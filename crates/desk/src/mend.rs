//! Mends: findings that say themselves how they go away, applied as one step of the journal.

use std::sync::Arc;

use findings::{Finding, Severity};
use plan::Command;
use sayings::{Arg, doing, refusing, say};

use crate::derived::FoundAt;
use crate::error::DeskError;
use crate::office::{Author, Desk, Receipt, Request};

/// The finding of a number, counted from 1, with the command that mends it.
fn mend_of(found: &[Finding], number: usize) -> Result<(&Finding, &Command), DeskError> {
    let known = || {
        let numbers = (1_usize..).zip(found).filter(|(_, f)| f.mend.is_some()).map(|(n, _)| n.into());
        let numbers: Vec<Arg> = numbers.collect();
        match numbers.as_slice() {
            [] => say!(refusing::MEND_NO_KNOWN),
            _ => say!(refusing::MEND_KNOWN, numbers = Arg::List(numbers)),
        }
    };
    let finding = number.checked_sub(1).and_then(|i| found.get(i)).ok_or_else(|| {
        let there = say!(refusing::MEND_THERE, n = found.len());
        let why = say!(refusing::MEND_NONE, there = there, n = number, known = known());
        DeskError::NoMend(Box::new(why))
    })?;
    let mend = finding.mend.as_ref().ok_or_else(|| {
        DeskError::NoMend(Box::new(say!(refusing::MEND_YOURS, n = number, known = known())))
    })?;
    Ok((finding, mend))
}

impl Desk {
    /// Mends the finding of a number, counted from 1 in the findings of a change of the plan. Refused when the plan is
    /// another one by now: then the number may mean something else, and the mend may do harm. Refused too, with what would be
    /// wrong, when the plan would have more that must be mended afterwards, or still the same: a mend knows its own place
    /// and not all that stands around it.
    pub fn mend(&self, who: &Author, number: usize, change: u64) -> Result<(Finding, Receipt), DeskError> {
        let at = self.findings()?;
        if at.snapshot.change != change {
            return Err(DeskError::Changed);
        }
        let (finding, command) = mend_of(&at.list, number)?;
        self.tried(&at, finding, command)?;
        let (label, command) =
            (say!(doing::MEND, place = finding.place.words.clone()).into(), command.clone());
        let seen = Arc::clone(&at.snapshot.plan);
        let draft = move |plan: &plan::Plan| {
            // Whoever was served before may have changed what the mend was made for.
            if *plan == *seen { Ok((label, command)) } else { Err(DeskError::Changed) }
        };
        let receipt = self.submit(who, Request::Change(Box::new(draft)))?;
        Ok((finding.clone(), receipt))
    }

    /// Whether a mend does what it is for.
    fn tried(&self, at: &FoundAt, finding: &Finding, command: &Command) -> Result<(), DeskError> {
        let found = &*at.list;
        // Somebody may have changed the plan meanwhile.
        let woven = self.woven();
        if woven.scene.snapshot.change != at.snapshot.change {
            return Err(DeskError::Changed);
        }
        let mut after = plan::Plan::clone(&at.snapshot.plan);
        let touched = after.apply(command)?.touched;
        let left = self.findings_after(&woven, &Arc::new(after), &touched)?;
        // The same one at the same item; its figures may be others by now.
        let same = |a: &Finding, b: &Finding| a.code == b.code && a.place.item == b.place.item;
        let count = |list: &[Finding]| list.iter().filter(|f| same(f, finding)).count();
        if let Some(stays) = left.iter().find(|f| same(f, finding))
            && count(&left) >= count(found)
        {
            let (message, hint) = (stays.message.clone(), stays.hint.clone());
            return Err(DeskError::NoMend(Box::new(say!(
                refusing::MEND_STAYS,
                message = message,
                hint = hint
            ))));
        }
        let must = |list: &[Finding]| list.iter().filter(|f| f.severity == Severity::Must).count();
        let new = |f: &&Finding| {
            let known = |of: &[Finding]| of.iter().filter(|k| same(k, f)).count();
            f.severity == Severity::Must && known(&left) > known(found)
        };
        match left.iter().find(new) {
            Some(worse) if must(&left) + usize::from(finding.severity == Severity::Must) > must(found) => {
                let (place, message) = (worse.place.words.clone(), worse.message.clone());
                let hint = finding.hint.clone();
                Err(DeskError::NoMend(Box::new(say!(
                    refusing::MEND_WORSE,
                    place = place,
                    message = message,
                    hint = hint
                ))))
            }
            _ => Ok(()),
        }
    }
}

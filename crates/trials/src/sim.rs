//! A simulated disk that a project can be kept on: the same bytes for SQLite and for the store's own calls.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use store::{Disk, Look, Sort};

use crate::platter::{Call, Fault, Platter, Trouble};
use crate::rng::Rng;
use crate::vfs;

pub(crate) type Shared = Arc<Mutex<Platter>>;

/// All disks of this process by their number, which is the first folder of every path on them.
static DISKS: Mutex<BTreeMap<u64, Shared>> = Mutex::new(BTreeMap::new());

pub(crate) fn lock<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    // A trial that panicked has left its own disk only, which nobody uses again.
    of.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The disk on which a path lies.
pub(crate) fn disk_of(path: &str) -> Option<Shared> {
    let number = path.strip_prefix("/trial-")?.split('/').next()?.parse().ok()?;
    lock(&DISKS).get(&number).cloned()
}

/// A disk in memory, with a power switch.
#[derive(Debug)]
pub struct SimDisk {
    number: u64,
    shared: Shared,
}

impl Drop for SimDisk {
    fn drop(&mut self) {
        lock(&DISKS).remove(&self.number);
    }
}

impl SimDisk {
    /// An empty disk.
    pub fn new() -> Arc<Self> {
        static NEXT: Mutex<u64> = Mutex::new(0);
        vfs::register();
        let mut next = lock(&NEXT);
        *next += 1;
        let shared = Shared::default();
        lock(&DISKS).insert(*next, shared.clone());
        Arc::new(Self { number: *next, shared })
    }

    /// A path on this disk.
    pub fn path(&self, name: &str) -> PathBuf {
        PathBuf::from(format!("/trial-{}/{name}", self.number))
    }

    /// Sets what goes wrong next.
    pub fn set_fault(&self, fault: Option<Fault>) {
        lock(&self.shared).set_fault(fault);
    }

    /// How many calls have counted since the fault was set.
    pub fn counted(&self) -> u64 {
        lock(&self.shared).counted()
    }

    /// Whether the power is off.
    pub fn is_dead(&self) -> bool {
        lock(&self.shared).is_dead()
    }

    /// Sets how many bytes fit.
    pub fn set_room(&self, room: Option<u64>) {
        lock(&self.shared).set_room(room);
    }

    /// Bytes in all files.
    pub fn used(&self) -> u64 {
        lock(&self.shared).used()
    }

    /// Takes the power away and gives it back.
    pub fn restart(&self, rng: &mut Rng) {
        lock(&self.shared).restart(rng);
    }

    /// The bytes of a file.
    pub fn bytes(&self, name: &str) -> Option<Vec<u8>> {
        let disk = lock(&self.shared);
        let id = disk.find(self.path(name).to_str()?)?;
        Some(disk.bytes(id).to_vec())
    }

    /// Puts a file on the disk as if it had always been there.
    pub fn plant(&self, name: &str, bytes: Vec<u8>) {
        lock(&self.shared).plant(&self.path(name).display().to_string(), bytes);
    }

    fn ask(&self, call: Call) -> io::Result<MutexGuard<'_, Platter>> {
        let mut disk = lock(&self.shared);
        match disk.call(call) {
            None => Ok(disk),
            Some(Trouble::Full) => Err(io::ErrorKind::StorageFull.into()),
            Some(Trouble::Error | Trouble::Cut) => Err(io::Error::other("simulated error")),
        }
    }
}

fn text(path: &Path) -> io::Result<&str> {
    path.to_str().ok_or_else(|| io::ErrorKind::InvalidInput.into())
}

fn missing() -> io::Error {
    io::ErrorKind::NotFound.into()
}

impl Disk for SimDisk {
    fn vfs(&self) -> Option<&str> {
        Some(vfs::NAME)
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        Ok(path.to_path_buf())
    }

    fn look(&self, path: &Path) -> io::Result<Look> {
        let disk = self.ask(Call::Read)?;
        let id = disk.find(text(path)?).ok_or_else(missing)?;
        let identity = format!("trial {} {id}", self.number);
        Ok(Look { sort: Sort::File, len: disk.bytes(id).len() as u64, identity, read_only: false })
    }

    fn head(&self, path: &Path, most: usize) -> io::Result<Vec<u8>> {
        let disk = self.ask(Call::Read)?;
        let bytes = disk.bytes(disk.find(text(path)?).ok_or_else(missing)?);
        Ok(bytes[..bytes.len().min(most)].to_vec())
    }

    fn may_write(&self, path: &Path) -> io::Result<()> {
        self.look(path).map(drop)
    }

    fn write_at(&self, path: &Path, offset: u64, bytes: &[u8]) -> io::Result<()> {
        let mut disk = self.ask(Call::Write)?;
        let id = match disk.find(text(path)?) {
            Some(id) => id,
            None => disk.make(text(path)?),
        };
        disk.write(id, offset as usize, bytes)?;
        drop(disk);
        self.ask(Call::Order)?.sync(id);
        Ok(())
    }

    fn copy(&self, from: &Path, to: &Path) -> io::Result<()> {
        let bytes = self.head(from, usize::MAX)?;
        self.write_at(to, 0, &bytes)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let renamed = self.ask(Call::Order)?.rename(text(from)?, text(to)?);
        if !renamed {
            return Err(missing());
        }
        self.ask(Call::Order)?.sync_folder();
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.ask(Call::Order)?.remove(text(path)?);
        Ok(())
    }

    fn make_scratch(&self) -> io::Result<PathBuf> {
        let disk = self.ask(Call::Read)?;
        let count = disk.names().len();
        Ok(self.path(&format!("scratch-{count}-{}", disk.life)))
    }

    fn remove_scratch(&self, folder: &Path) {
        let mut disk = lock(&self.shared);
        for name in disk.names() {
            if Path::new(&name).starts_with(folder) {
                disk.remove(&name);
            }
        }
    }
}

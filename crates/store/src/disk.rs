//! Every file call of this crate beside SQLite's own, behind one trait, so that a simulated disk can stand in.

use std::fmt;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// What stands at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// An ordinary file.
    File,
    /// A folder.
    Folder,
    /// A pipe, a device, a socket.
    Other,
}

/// What can be seen of a file without opening it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// What it is.
    pub sort: Sort,
    /// Its length in bytes.
    pub len: u64,
    /// The same for two paths exactly when they lead to the same file.
    pub identity: String,
    /// True when the file is marked as not to be written.
    pub read_only: bool,
}

/// A disk: the file calls that the store makes itself.
///
/// SQLite makes its own through the VFS named by [`Disk::vfs`].
pub trait Disk: fmt::Debug + Send + Sync {
    /// Name of the SQLite VFS on the same disk; `None` for the usual one.
    fn vfs(&self) -> Option<&str>;
    /// The path without links and dots. The file need not exist, its folder must.
    fn resolve(&self, path: &Path) -> io::Result<PathBuf>;
    /// Looks at a path without opening it.
    fn look(&self, path: &Path) -> io::Result<Look>;
    /// The first bytes of a file, at most `most`.
    fn head(&self, path: &Path, most: usize) -> io::Result<Vec<u8>>;
    /// Whether the file can be opened for writing, without changing it.
    fn may_write(&self, path: &Path) -> io::Result<()>;
    /// Overwrites part of a small file in place, making it first if need be, and synchronises it.
    fn write_at(&self, path: &Path, offset: u64, bytes: &[u8]) -> io::Result<()>;
    /// Copies a file to a new name.
    fn copy(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Gives a file another name, replacing what had it, and synchronises the folder.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Takes a file away; it is no error if there is none.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Makes a folder of its own for scratch files.
    fn make_scratch(&self) -> io::Result<PathBuf>;
    /// Takes the scratch folder away with all that is in it.
    fn remove_scratch(&self, folder: &Path);
}

/// The disk of the operating system.
#[derive(Debug, Clone, Copy, Default)]
pub struct OsDisk;

impl Disk for OsDisk {
    fn vfs(&self) -> Option<&str> {
        None
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        match fs::canonicalize(path) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => {
                let name = path.file_name().ok_or(e)?;
                let folder = path.parent().filter(|p| !p.as_os_str().is_empty());
                Ok(fs::canonicalize(folder.unwrap_or(Path::new(".")))?.join(name))
            }
            other => other,
        }
    }

    fn look(&self, path: &Path) -> io::Result<Look> {
        let about = fs::metadata(path)?;
        let sort = match about.file_type() {
            t if t.is_file() => Sort::File,
            t if t.is_dir() => Sort::Folder,
            _ => Sort::Other,
        };
        let identity = identity(path, &about)?;
        Ok(Look { sort, len: about.len(), identity, read_only: about.permissions().readonly() })
    }

    fn head(&self, path: &Path, most: usize) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        File::open(path)?.take(most as u64).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn may_write(&self, path: &Path) -> io::Result<()> {
        OpenOptions::new().read(true).write(true).open(path).map(drop)
    }

    fn write_at(&self, path: &Path, offset: u64, bytes: &[u8]) -> io::Result<()> {
        let mut file = OpenOptions::new().write(true).create(true).truncate(false).open(path)?;
        file.seek(SeekFrom::Start(offset))?;
        file.write_all(bytes)?;
        file.sync_data()
    }

    fn copy(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut from = File::open(from)?;
        let mut to = OpenOptions::new().write(true).create_new(true).open(to)?;
        io::copy(&mut from, &mut to)?;
        to.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)?;
        sync_folder_of(to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        match fs::remove_file(path) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(()),
            other => other,
        }
    }

    fn make_scratch(&self) -> io::Result<PathBuf> {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        // The name is free unless a process with this number died earlier; then the next count is.
        for _ in 0..10_000 {
            let n = COUNT.fetch_add(1, Ordering::Relaxed);
            let folder = std::env::temp_dir().join(format!("standfast-{}-{n}", std::process::id()));
            match private_folder(&folder) {
                Err(e) if e.kind() == io::ErrorKind::AlreadyExists => {}
                other => return other.map(|()| folder),
            }
        }
        Err(io::Error::other("no free name for a scratch folder"))
    }

    fn remove_scratch(&self, folder: &Path) {
        // A scratch folder that stays behind does no harm.
        let _ = fs::remove_dir_all(folder);
    }
}

#[cfg(unix)]
fn identity(_path: &Path, about: &fs::Metadata) -> io::Result<String> {
    use std::os::unix::fs::MetadataExt;
    Ok(format!("{}:{}", about.dev(), about.ino()))
}

#[cfg(not(unix))]
fn identity(path: &Path, _about: &fs::Metadata) -> io::Result<String> {
    Ok(fs::canonicalize(path)?.display().to_string())
}

#[cfg(unix)]
fn private_folder(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    fs::DirBuilder::new().mode(0o700).create(folder)
}

#[cfg(not(unix))]
fn private_folder(folder: &Path) -> io::Result<()> {
    fs::create_dir(folder)
}

#[cfg(unix)]
fn sync_folder_of(path: &Path) -> io::Result<()> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty());
    File::open(folder.unwrap_or(Path::new(".")))?.sync_all()
}

/// Elsewhere a folder cannot be synchronised by itself.
#[cfg(not(unix))]
fn sync_folder_of(_path: &Path) -> io::Result<()> {
    Ok(())
}

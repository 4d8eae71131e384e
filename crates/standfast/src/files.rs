//! Reading and writing files whole: a file is either the old one or the new one, never half of it.

use std::io::{Read, Write};
use std::path::Path;

use crate::out::{Trouble, print_out};

/// The most that is read from standard input or a list, in bytes.
pub(crate) const MOST: u64 = 512 * 1024 * 1024;

/// Reads a file, or standard input for `-`.
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, Trouble> {
    if path == Path::new("-") {
        let mut bytes = Vec::new();
        let read = std::io::stdin().lock().take(MOST + 1).read_to_end(&mut bytes);
        read.map_err(|e| Trouble::machine("input", format!("Standard input cannot be read: {e}.")))?;
        return small_enough(path, bytes);
    }
    let about = std::fs::metadata(path).map_err(|e| unreadable(path, &e))?;
    if !about.is_file() {
        let message =
            format!("{}: this is not a file. Name a file, or - for standard input.", path.display());
        return Err(Trouble::input("file", message));
    }
    if about.len() > MOST {
        return small_enough(path, Vec::new()).and(Err(too_large(path)));
    }
    std::fs::read(path).map_err(|e| unreadable(path, &e))
}

fn small_enough(path: &Path, bytes: Vec<u8>) -> Result<Vec<u8>, Trouble> {
    if bytes.len() as u64 > MOST { Err(too_large(path)) } else { Ok(bytes) }
}

fn too_large(path: &Path) -> Trouble {
    let message = format!("{}: larger than 512 MiB. Make it smaller, then try again.", path.display());
    Trouble::input("file", message)
}

fn unreadable(path: &Path, error: &std::io::Error) -> Trouble {
    let next = match error.kind() {
        std::io::ErrorKind::NotFound => "Check the name",
        std::io::ErrorKind::PermissionDenied => "Ask for the right to read it",
        _ => "Check the disk",
    };
    Trouble::input("file", format!("{}: cannot be read ({error}). {next}, then try again.", path.display()))
}

/// Writes a file whole, or to standard output for `-`: first beside its place, then moved there.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    if path == Path::new("-") {
        return print_out(bytes);
    }
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let write = || -> std::io::Result<()> {
        let mut file = tempfile::Builder::new().prefix(".standfast-").tempfile_in(folder)?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        if crate::interrupt::pressed() {
            return Err(std::io::ErrorKind::Interrupted.into());
        }
        set_usual_rights(file.as_file())?;
        file.persist(path).map_err(|e| e.error)?;
        Ok(())
    };
    write().map_err(|e| match e.kind() {
        std::io::ErrorKind::Interrupted => Trouble::interrupted(),
        std::io::ErrorKind::NotFound => {
            Trouble::input("file", format!("{}: there is no such folder. Make it first.", path.display()))
        }
        _ => Trouble::machine(
            "file",
            format!("{}: cannot be written ({e}). Nothing was changed there; free the disk or name another place.", path.display()),
        ),
    })
}

/// Temporary files are private; what the user asked for is readable like any other file of theirs.
#[cfg(unix)]
fn set_usual_rights(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn set_usual_rights(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}

//! SQLite's file interface (sqlite.org/c3ref/vfs.html) on simulated disks.
//!
//! This is the one file of the project with unsafe code: SQLite calls C functions with raw pointers.
//! Each function turns them into safe values in its first lines and hands on to [`crate::platter`].

#![allow(unsafe_code, reason = "SQLite's file interface is a C interface")]

use std::ffi::{CStr, CString, c_char, c_int, c_void};
use std::io;
use std::ptr;
use std::sync::Once;

use rusqlite::ffi;

use crate::platter::{Call, Platter, Trouble};
use crate::sim::{Shared, disk_of, lock};

/// The name under which SQLite knows the simulated disks.
pub(crate) const NAME: &str = "standfast-trials";

/// An open file: SQLite's own part first, as its interface asks.
#[repr(C)]
struct File {
    base: ffi::sqlite3_file,
    open: *mut Open,
}

struct Open {
    disk: Shared,
    name: String,
    inode: u64,
    handle: u64,
    life: u64,
    delete_on_close: bool,
}

static METHODS: ffi::sqlite3_io_methods = ffi::sqlite3_io_methods {
    iVersion: 1,
    xClose: Some(close),
    xRead: Some(read),
    xWrite: Some(write),
    xTruncate: Some(truncate),
    xSync: Some(sync),
    xFileSize: Some(file_size),
    xLock: Some(take_lock),
    xUnlock: Some(unlock),
    xCheckReservedLock: Some(check_reserved),
    xFileControl: Some(file_control),
    xSectorSize: Some(sector_size),
    xDeviceCharacteristics: Some(characteristics),
    xShmMap: None,
    xShmLock: None,
    xShmBarrier: None,
    xShmUnmap: None,
    xFetch: None,
    xUnfetch: None,
};

/// Makes the simulated disks known to SQLite, once in a process.
pub(crate) fn register() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let name = CString::new(NAME).expect("the name has no zero byte").into_raw();
        // SAFETY: the usual VFS always exists and lives for ever; only its harmless functions are taken over.
        let usual = unsafe { &*ffi::sqlite3_vfs_find(ptr::null()) };
        let vfs = Box::new(ffi::sqlite3_vfs {
            iVersion: 2,
            szOsFile: size_of::<File>() as c_int,
            mxPathname: 512,
            pNext: ptr::null_mut(),
            zName: name,
            pAppData: ptr::null_mut(),
            xOpen: Some(open),
            xDelete: Some(delete),
            xAccess: Some(access),
            xFullPathname: Some(full_pathname),
            xDlOpen: None,
            xDlError: None,
            xDlSym: None,
            xDlClose: None,
            xRandomness: usual.xRandomness,
            xSleep: usual.xSleep,
            xCurrentTime: usual.xCurrentTime,
            xGetLastError: Some(last_error),
            xCurrentTimeInt64: usual.xCurrentTimeInt64,
            xSetSystemCall: None,
            xGetSystemCall: None,
            xNextSystemCall: None,
        });
        // SAFETY: the table and its name are never freed, as SQLite asks.
        let code = unsafe { ffi::sqlite3_vfs_register(Box::into_raw(vfs), 0) };
        assert_eq!(code, ffi::SQLITE_OK, "SQLite takes another file interface");
    });
}

/// SAFETY: `file` must come from SQLite and have been opened by [`open`].
unsafe fn opened<'a>(file: *mut ffi::sqlite3_file) -> &'a Open {
    unsafe { &*(*file.cast::<File>()).open }
}

/// SAFETY: `name` must be null or a C string of SQLite's that outlives the call.
unsafe fn text(name: *const c_char) -> String {
    if name.is_null() {
        return String::new();
    }
    unsafe { CStr::from_ptr(name) }.to_string_lossy().into_owned()
}

/// Does `work` on the file's disk unless the call goes wrong; `code` is what SQLite hears then.
fn on_disk(open: &Open, call: Call, code: c_int, work: impl FnOnce(&mut Platter) -> io::Result<()>) -> c_int {
    let mut disk = lock(&open.disk);
    if disk.life != open.life {
        return code;
    }
    let done = match disk.call(call) {
        None => work(&mut disk),
        Some(Trouble::Full) => return ffi::SQLITE_FULL,
        Some(Trouble::Error) => return code,
        Some(Trouble::Cut) => {
            if call == Call::Write && disk.counted() > 0 {
                // The power goes while the write is under way: a part of it may arrive.
                let _ = work(&mut disk);
            }
            return code;
        }
    };
    match done {
        Ok(()) => ffi::SQLITE_OK,
        Err(e) if e.kind() == io::ErrorKind::StorageFull => ffi::SQLITE_FULL,
        Err(_) => code,
    }
}

unsafe extern "C" fn open(
    _: *mut ffi::sqlite3_vfs,
    name: *const c_char,
    file: *mut ffi::sqlite3_file,
    flags: c_int,
    out_flags: *mut c_int,
) -> c_int {
    // SAFETY: SQLite hands over room for one `File` and a name that stays while the file is open.
    let (file, name) = unsafe { (&mut *file.cast::<File>(), text(name)) };
    file.base.pMethods = ptr::null();
    let Some(shared) = disk_of(&name) else { return ffi::SQLITE_CANTOPEN };
    let mut disk = lock(&shared);
    let inode = match disk.find(&name) {
        Some(inode) => inode,
        None if flags & ffi::SQLITE_OPEN_CREATE == 0 => return ffi::SQLITE_CANTOPEN,
        None => match disk.call(Call::Write) {
            Some(_) => return ffi::SQLITE_CANTOPEN,
            None => disk.make(&name),
        },
    };
    if disk.is_dead() {
        return ffi::SQLITE_CANTOPEN;
    }
    let life = disk.life;
    drop(disk);
    let open = Box::new(Open {
        disk: shared,
        name,
        inode,
        handle: 0,
        life,
        delete_on_close: flags & ffi::SQLITE_OPEN_DELETEONCLOSE != 0,
    });
    file.open = Box::into_raw(open);
    // SAFETY: just made and not shared yet. Its own address is a number that no other open file has.
    unsafe { (*file.open).handle = file.open as u64 };
    file.base.pMethods = &METHODS;
    if !out_flags.is_null() {
        // SAFETY: SQLite hands over a place for one number or null.
        unsafe { *out_flags = flags };
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn close(file: *mut ffi::sqlite3_file) -> c_int {
    // SAFETY: made by `open`, and SQLite does not use the file after closing it.
    let open = unsafe { Box::from_raw((*file.cast::<File>()).open) };
    let mut disk = lock(&open.disk);
    if disk.life == open.life {
        disk.unlock(open.inode, open.handle, 0);
        if open.delete_on_close {
            disk.remove(&open.name);
        }
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn read(file: *mut ffi::sqlite3_file, to: *mut c_void, count: c_int, offset: i64) -> c_int {
    // SAFETY: SQLite hands over `count` bytes to be written.
    let (open, to) =
        unsafe { (opened(file), std::slice::from_raw_parts_mut(to.cast::<u8>(), count as usize)) };
    let mut short = false;
    let code = on_disk(open, Call::Read, ffi::SQLITE_IOERR_READ, |disk| {
        let bytes = disk.bytes(open.inode).get(offset as usize..).unwrap_or(&[]);
        let n = bytes.len().min(to.len());
        to[..n].copy_from_slice(&bytes[..n]);
        to[n..].fill(0);
        short = n < to.len();
        Ok(())
    });
    if code == ffi::SQLITE_OK && short { ffi::SQLITE_IOERR_SHORT_READ } else { code }
}

unsafe extern "C" fn write(
    file: *mut ffi::sqlite3_file,
    from: *const c_void,
    count: c_int,
    offset: i64,
) -> c_int {
    // SAFETY: SQLite hands over `count` bytes to be read.
    let (open, from) =
        unsafe { (opened(file), std::slice::from_raw_parts(from.cast::<u8>(), count as usize)) };
    on_disk(open, Call::Write, ffi::SQLITE_IOERR_WRITE, |disk| disk.write(open.inode, offset as usize, from))
}

unsafe extern "C" fn truncate(file: *mut ffi::sqlite3_file, size: i64) -> c_int {
    // SAFETY: opened by `open`.
    let open = unsafe { opened(file) };
    on_disk(open, Call::Write, ffi::SQLITE_IOERR_TRUNCATE, |disk| {
        disk.truncate(open.inode, size as usize);
        Ok(())
    })
}

unsafe extern "C" fn sync(file: *mut ffi::sqlite3_file, _: c_int) -> c_int {
    // SAFETY: opened by `open`.
    let open = unsafe { opened(file) };
    on_disk(open, Call::Order, ffi::SQLITE_IOERR_FSYNC, |disk| {
        disk.sync(open.inode);
        Ok(())
    })
}

unsafe extern "C" fn file_size(file: *mut ffi::sqlite3_file, size: *mut i64) -> c_int {
    // SAFETY: opened by `open`; SQLite hands over a place for one number.
    let (open, size) = unsafe { (opened(file), &mut *size) };
    on_disk(open, Call::Read, ffi::SQLITE_IOERR_FSTAT, |disk| {
        *size = disk.bytes(open.inode).len() as i64;
        Ok(())
    })
}

unsafe extern "C" fn take_lock(file: *mut ffi::sqlite3_file, level: c_int) -> c_int {
    // SAFETY: opened by `open`.
    let open = unsafe { opened(file) };
    let free = lock(&open.disk).lock(open.inode, open.handle, level);
    if free { ffi::SQLITE_OK } else { ffi::SQLITE_BUSY }
}

unsafe extern "C" fn unlock(file: *mut ffi::sqlite3_file, level: c_int) -> c_int {
    // SAFETY: opened by `open`.
    let open = unsafe { opened(file) };
    lock(&open.disk).unlock(open.inode, open.handle, level);
    ffi::SQLITE_OK
}

unsafe extern "C" fn check_reserved(file: *mut ffi::sqlite3_file, out: *mut c_int) -> c_int {
    // SAFETY: opened by `open`; SQLite hands over a place for one number.
    unsafe { *out = c_int::from(lock(&opened(file).disk).reserved(opened(file).inode)) };
    ffi::SQLITE_OK
}

unsafe extern "C" fn file_control(_: *mut ffi::sqlite3_file, _: c_int, _: *mut c_void) -> c_int {
    ffi::SQLITE_NOTFOUND
}

unsafe extern "C" fn sector_size(_: *mut ffi::sqlite3_file) -> c_int {
    4096
}

/// As SQLite assumes of usual disks: a write cut short harms no neighbouring byte.
unsafe extern "C" fn characteristics(_: *mut ffi::sqlite3_file) -> c_int {
    ffi::SQLITE_IOCAP_POWERSAFE_OVERWRITE
}

unsafe extern "C" fn delete(_: *mut ffi::sqlite3_vfs, name: *const c_char, sync_folder: c_int) -> c_int {
    // SAFETY: a C string of SQLite's.
    let name = unsafe { text(name) };
    let Some(shared) = disk_of(&name) else { return ffi::SQLITE_IOERR_DELETE };
    let mut disk = lock(&shared);
    if disk.call(Call::Order).is_some() {
        return ffi::SQLITE_IOERR_DELETE;
    }
    if !disk.remove(&name) {
        return ffi::SQLITE_IOERR_DELETE_NOENT;
    }
    if sync_folder != 0 {
        disk.sync_folder();
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn access(
    _: *mut ffi::sqlite3_vfs,
    name: *const c_char,
    _: c_int,
    out: *mut c_int,
) -> c_int {
    // SAFETY: a C string of SQLite's and a place for one number.
    let (name, out) = unsafe { (text(name), &mut *out) };
    let Some(shared) = disk_of(&name) else { return ffi::SQLITE_IOERR_ACCESS };
    let mut disk = lock(&shared);
    if disk.call(Call::Read).is_some() {
        return ffi::SQLITE_IOERR_ACCESS;
    }
    // The usual file interface takes an empty file for none here, and so does this one.
    *out = c_int::from(disk.find(&name).is_some_and(|id| !disk.bytes(id).is_empty()));
    ffi::SQLITE_OK
}

unsafe extern "C" fn full_pathname(
    _: *mut ffi::sqlite3_vfs,
    name: *const c_char,
    room: c_int,
    out: *mut c_char,
) -> c_int {
    // SAFETY: a C string of SQLite's, and `room` bytes to be written.
    let (name, out) =
        unsafe { (CStr::from_ptr(name), std::slice::from_raw_parts_mut(out.cast::<u8>(), room as usize)) };
    let bytes = name.to_bytes_with_nul();
    if bytes.len() > out.len() {
        return ffi::SQLITE_CANTOPEN;
    }
    out[..bytes.len()].copy_from_slice(bytes);
    ffi::SQLITE_OK
}

unsafe extern "C" fn last_error(_: *mut ffi::sqlite3_vfs, _: c_int, _: *mut c_char) -> c_int {
    0
}

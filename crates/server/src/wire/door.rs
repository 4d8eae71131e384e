//! What is pushed over the socket, and how tablets get in.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Job, Role, Saved};

/// Pushed by the server over `/api/live`.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum News {
    /// First message on every connection.
    Hello {
        /// The last change on disk.
        saved: Saved,
    },
    /// The plan changed.
    Changed {
        /// The change that is now on disk.
        saved: Saved,
        /// What was done.
        label: String,
        /// Items concerned.
        items: Vec<u32>,
    },
    /// A job moved on.
    Job {
        /// The job.
        job: Box<Job>,
    },
}

/// `POST /api/join`.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct Join {
    /// The code on the planner's screen.
    pub code: String,
}

/// `GET /api/lan`: how tablets get in; planner only.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Lan {
    /// False when the server listens on the loopback address alone.
    pub open: bool,
    /// Addresses to type in a tablet.
    pub addresses: Vec<String>,
    /// Code for the crew.
    pub crew_code: String,
    /// Code for another planner.
    pub planner_code: String,
    /// QR code as SVG: the first address with the page `join` and the crew's code after the sign #.
    pub qr: String,
}

/// Answer to a join; the session itself is a cookie that scripts cannot read.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Joined {
    /// As whom this browser is in.
    pub role: Role,
}

//! The words of the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use geometry::Point;
use units::{Angle, Length};

/// Plans domino runs: pictures from the pieces you own, and sheets that a crew can build from.
#[derive(Debug, Parser)]
#[command(name = "standfast", version, about, long_about = None, after_help = STATUSES, max_term_width = 100)]
pub(crate) struct Cli {
    /// What to do; without a word the workbench opens with the example
    #[command(subcommand)]
    pub verb: Option<Verb>,

    /// Answer and complain in JSON, for programs
    #[arg(long, global = true)]
    pub json: bool,

    /// Say nothing about progress
    #[arg(long, short, global = true)]
    pub quiet: bool,
}

const STATUSES: &str = "\
Exit status:
  0    fine
  1    there are findings of the severity named by --fail-on (must, unless said otherwise)
  2    bad input: a word, a file or a value that cannot be taken
  3    the machine could not: disk, memory, port
  130  interrupted; nothing is left half-written";

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Open the workbench in the browser
    #[command(after_help = "Example:\n  standfast open spring.standfast --lan")]
    Open(OpenArgs),
    /// Make a new project file
    #[command(after_help = "Examples:\n  \
        standfast new spring.standfast --example spring-to-sea\n  \
        standfast new mill.standfast --picture mill.jpg --stock stock.csv --cells 120x90\n  \
        standfast new back.standfast --from plan.toml")]
    New(NewArgs),
    /// Make a picture from the pieces you own
    #[command(
        after_help = "Example:\n  standfast picture photo.jpg --stock stock.csv --cells 120x90 -o laid.png"
    )]
    Picture(PictureArgs),
    /// List what is wrong with a plan
    #[command(after_help = "Examples:\n  \
        standfast check spring.standfast --fail-on should\n  \
        standfast check spring.standfast --mend 3")]
    Check(CheckArgs),
    /// Say what falls, in what time and how surely, and what stays standing and why
    #[command(after_help = "Examples:\n  \
        standfast fall spring.standfast\n  \
        standfast fall spring.standfast --runs 200 --seed 7")]
    Fall(FallArgs),
    /// List the pieces needed, owned and short
    #[command(after_help = "Example:\n  standfast stock spring.standfast")]
    Stock(StockArgs),
    /// Print lane sheets as PDF
    #[command(after_help = "Example:\n  standfast sheets spring.standfast --language de -o sheets.pdf")]
    Sheets(SheetsArgs),
    /// Match fields of a project to its stock and lay them
    #[command(
        after_help = "Example:\n  standfast match spring.standfast --field Town --field Mill --match seen"
    )]
    Match(MatchArgs),
    /// Say how a field can be fed, and lay the pieces
    #[command(after_help = "Examples:\n  \
        standfast feed spring.standfast Town\n  \
        standfast feed spring.standfast Town --way echelon --side left --apply\n  \
        standfast feed spring.standfast Town --way opposed --apply")]
    Feed(FeedArgs),
    /// Move and turn a whole section, or several items, as one change
    #[command(after_help = "Examples:\n  \
        standfast shift spring.standfast --section A --east \"12 mm\" --north \"-4 mm\" --turn \"0.2 deg\"\n  \
        standfast shift spring.standfast --item Town --item Mill --turn \"-1 deg\" --about \"3 m, 1.5 m\"")]
    Shift(ShiftArgs),
    /// Say what a touch would take down, which safety gaps hold, and which ones to leave
    #[command(after_help = "Examples:\n  \
        standfast build spring.standfast\n  \
        standfast build spring.standfast --built Town --built River --accidents 5\n  \
        standfast build spring.standfast --gaps-closed --json")]
    Build(BuildArgs),
    /// Write a plan in another form
    #[command(after_help = "Examples:\n  \
        standfast export spring.standfast --to toml -o spring/\n  \
        standfast export spring.standfast --to csv -o - > stock.csv")]
    Export(ExportArgs),
    /// Write a checked copy of a project file
    #[command(after_help = "Example:\n  standfast backup spring.standfast -o spring-friday.standfast")]
    Backup(BackupArgs),
    /// Check a backup, and bring it back
    #[command(after_help = "Examples:\n  \
        standfast restore spring-friday.standfast --check\n  \
        standfast restore spring-friday.standfast -o spring.standfast")]
    Restore(RestoreArgs),
    /// Print completions for a shell
    #[command(after_help = "Example:\n  standfast completions bash > /etc/bash_completion.d/standfast")]
    Completions {
        /// For which shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    #[command(after_help = "Example:\n  standfast manual | man -l -")]
    Manual,
}

/// `open`
#[derive(Debug, Args, Default)]
pub(crate) struct OpenArgs {
    /// Project file; the example when absent
    pub file: Option<PathBuf>,
    /// Let tablets in the same network in, with a code
    #[arg(long)]
    pub lan: bool,
    /// Port to listen on; 0 takes any that is free
    #[arg(long, default_value_t = 7327)]
    pub port: u16,
    /// Do not open the browser
    #[arg(long)]
    pub no_browser: bool,
}

impl OpenArgs {
    /// What `standfast` without a word does.
    pub(crate) fn usual() -> Self {
        Self { port: 7327, ..Self::default() }
    }
}

/// `new`
#[derive(Debug, Args)]
pub(crate) struct NewArgs {
    /// Project file to make
    pub file: PathBuf,
    /// Start from an example
    #[arg(long, value_name = "NAME", conflicts_with_all = ["from", "picture"])]
    pub example: Option<String>,
    /// Start from a text plan
    #[arg(long, value_name = "PLAN.TOML", conflicts_with = "picture")]
    pub from: Option<PathBuf>,
    /// Start from a picture, matched to the stock
    #[arg(long, value_name = "IMAGE", requires = "stock", requires = "cells")]
    pub picture: Option<PathBuf>,
    /// Stock list (CSV)
    #[arg(long, value_name = "STOCK.CSV")]
    pub stock: Option<PathBuf>,
    /// Cells across and down the picture
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = pair::<u32>)]
    pub cells: Option<(u32, u32)>,
    /// How the picture is matched
    #[command(flatten)]
    pub how: HowArgs,
}

/// How a picture becomes pieces.
#[derive(Debug, Args, Clone)]
pub(crate) struct HowArgs {
    /// Width and height of a cell in the picture, in mm
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = pair::<f64>)]
    pub pitch: Option<(f64, f64)>,
    /// What is to be right: each cell, proven; or what the eye sees from afar
    #[arg(long = "match", value_enum, default_value_t = Goal::Exact, value_name = "GOAL")]
    pub goal: Goal,
    /// Viewing distance for `--match seen`
    #[arg(long, value_name = "METRES", default_value_t = 20.0)]
    pub seen_from: f64,
    /// Weight for fewer changes of colour along a lane, 0 to 5, for `--match seen`
    #[arg(long, value_name = "W", default_value_t = 0.0)]
    pub fewer_changes: f64,
    /// As what the picture is to be right
    #[arg(long, value_enum, default_value_t = SeenAs::Laid)]
    pub seen_as: SeenAs,
    /// Eye height in metres for `--seen-as standing`
    #[arg(long, value_name = "METRES", default_value_t = 1.6)]
    pub eye_height: f64,
    /// Where the eye stands against the fall, for `--seen-as standing`: 180 is behind the entry
    #[arg(long, value_name = "DEGREES", default_value_t = 180.0)]
    pub eye_bearing: f64,
    /// How the fall crosses the upright picture
    #[arg(long, value_enum, default_value_t = Fall::Right)]
    pub fall: Fall,
    /// Colour of the floor
    #[arg(long, value_name = "HEX", default_value = "#8a7a62")]
    pub floor: String,
    /// Contrast, -1 to 1
    #[arg(long, value_name = "C", default_value_t = 0.0, allow_negative_numbers = true)]
    pub contrast: f64,
    /// How the picture meets the field: fill (cut evenly), within, stretch
    #[arg(long, value_enum, default_value_t = Fit::Fill)]
    pub fit: Fit,
}

/// `picture`
#[derive(Debug, Args)]
pub(crate) struct PictureArgs {
    /// Picture: PNG, JPEG, WebP or TIFF; `-` for standard input
    pub image: PathBuf,
    /// Stock list (CSV); `-` for standard input
    #[arg(long, value_name = "STOCK.CSV")]
    pub stock: PathBuf,
    /// Cells across and down the picture
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = pair::<u32>)]
    pub cells: (u32, u32),
    /// How it is matched
    #[command(flatten)]
    pub how: HowArgs,
    /// Write the picture as laid (PNG); `-` for standard output
    #[arg(short, long, value_name = "OUT.png")]
    pub output: Option<PathBuf>,
    /// Findings of this severity make the exit status 1
    #[arg(long, value_enum, default_value_t = FailOn::Must)]
    pub fail_on: FailOn,
}

/// `check`
#[derive(Debug, Args)]
pub(crate) struct CheckArgs {
    /// Project file, or a text plan (plan.toml, or its folder)
    pub file: PathBuf,
    /// Findings of this severity make the exit status 1
    #[arg(long, value_enum, default_value_t = FailOn::Must)]
    pub fail_on: FailOn,
    /// Mend the finding of this number as one step that can be undone, then list what is left
    #[arg(long, value_name = "N")]
    pub mend: Option<usize>,
}

/// `fall`
#[derive(Debug, Args)]
pub(crate) struct FallArgs {
    /// Project file, or a text plan (plan.toml, or its folder)
    pub file: PathBuf,
    /// Let it fall so many times with chance, and say how often all goes
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u32).range(0..=100_000))]
    pub runs: u32,
    /// Seed of the chance; the same seed gives the same falls
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
}

/// `stock`
#[derive(Debug, Args)]
pub(crate) struct StockArgs {
    /// Project file, or a text plan (plan.toml, or its folder)
    pub file: PathBuf,
    /// Findings of this severity make the exit status 1
    #[arg(long, value_enum, default_value_t = FailOn::Must)]
    pub fail_on: FailOn,
}

/// `match`
#[derive(Debug, Args)]
pub(crate) struct MatchArgs {
    /// Project file
    pub file: PathBuf,
    /// Field to match, by name; all fields with a picture when absent
    #[arg(long, value_name = "NAME")]
    pub field: Vec<String>,
    /// What is to be right; each field's own wish when absent
    #[arg(long = "match", value_enum, value_name = "GOAL")]
    pub goal: Option<Goal>,
    /// Weight for fewer changes, 0 to 5; each field's own wish when absent
    #[arg(long, value_name = "W")]
    pub fewer_changes: Option<f64>,
}

/// `feed`
#[derive(Debug, Args)]
pub(crate) struct FeedArgs {
    /// Project file; without --apply a text plan (plan.toml, or its folder) will do
    pub file: PathBuf,
    /// Field to feed, by name
    pub field: String,
    /// Only this way; with --apply the best one that leaves the lanes as they are when absent
    #[arg(long, value_enum, value_name = "NAME")]
    pub way: Option<Way>,
    /// From which side of the field the line comes, seen along the fall
    #[arg(long, value_enum, default_value_t = FeedSide::Right)]
    pub side: FeedSide,
    /// Add the feed to the plan, and let the lanes fall otherwise where the way is that
    #[arg(long)]
    pub apply: bool,
}

/// `shift`
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("which").required(true).multiple(false))]
pub(crate) struct ShiftArgs {
    /// Project file
    pub file: PathBuf,
    /// All items of this section, by name
    #[arg(long, value_name = "NAME", group = "which")]
    pub section: Option<String>,
    /// This item, by name; may be given again
    #[arg(long, value_name = "NAME", group = "which")]
    pub item: Vec<String>,
    /// How far to the east; negative to the west
    #[arg(long, value_name = "LENGTH", value_parser = length, allow_hyphen_values = true)]
    pub east: Option<Length>,
    /// How far to the north; negative to the south
    #[arg(long, value_name = "LENGTH", value_parser = length, allow_hyphen_values = true)]
    pub north: Option<Length>,
    /// How far to turn to the left, before the move; negative to the right
    #[arg(long, value_name = "ANGLE", value_parser = angle, allow_hyphen_values = true)]
    pub turn: Option<Angle>,
    /// The place to turn about, east and north on the drawing; the middle of what is moved when absent
    #[arg(long, value_name = "EAST,NORTH", value_parser = spot, allow_hyphen_values = true, requires = "turn")]
    pub about: Option<Point>,
}

/// `build`
#[derive(Debug, Args)]
pub(crate) struct BuildArgs {
    /// Project file, or a text plan (plan.toml, or its folder)
    pub file: PathBuf,
    /// Item that is built, by name; may be given again; all items when absent
    #[arg(long, value_name = "NAME")]
    pub built: Vec<String>,
    /// The safety gaps are open: their pieces are missing (the usual case)
    #[arg(long, conflicts_with = "gaps_closed")]
    pub gaps_open: bool,
    /// The safety gaps are closed: all pieces stand
    #[arg(long)]
    pub gaps_closed: bool,
    /// Accidents expected until the end, for the proposed gaps; one for every 10 000 pieces when absent
    #[arg(long, value_name = "N", value_parser = accidents, allow_hyphen_values = true)]
    pub accidents: Option<f64>,
}

/// `sheets`
#[derive(Debug, Args)]
pub(crate) struct SheetsArgs {
    /// Project file, or a text plan (plan.toml, or its folder)
    pub file: PathBuf,
    /// Where to write the PDF; `-` for standard output
    #[arg(short, long, value_name = "OUT.pdf")]
    pub output: PathBuf,
    /// Field to print, by name; all fields when absent
    #[arg(long, value_name = "NAME")]
    pub field: Vec<String>,
    /// Language of the sheets
    #[arg(long, value_enum, default_value_t = Language::En)]
    pub language: Language,
    /// Read along lanes or along ranks
    #[arg(long, value_enum, default_value_t = Unit::Lane)]
    pub unit: Unit,
    /// As drawn, or mirrored for the builder on the other side
    #[arg(long, value_enum, default_value_t = Side::Drawn)]
    pub side: Side,
    /// From where the builder reads
    #[arg(long, value_enum)]
    pub from: Option<Compass>,
    /// Paper
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
    /// How far a builder reaches, in mm (500 to 600 is comfortable: common practice)
    #[arg(long, value_name = "MM", default_value_t = 600.0)]
    pub reach: f64,
    /// Textures instead of colours, for a grey printer
    #[arg(long)]
    pub grey: bool,
    /// Print lengths in inches
    #[arg(long)]
    pub imperial: bool,
}

/// `export`
#[derive(Debug, Args)]
pub(crate) struct ExportArgs {
    /// Project file, or a text plan (plan.toml, or its folder)
    pub file: PathBuf,
    /// toml: plan.toml with stock.csv and pictures in a folder; csv: the stock list
    #[arg(long, value_enum)]
    pub to: Form,
    /// Folder for toml, file for csv; `-` for standard output
    #[arg(short, long, value_name = "OUT")]
    pub output: PathBuf,
}

/// `backup`
#[derive(Debug, Args)]
pub(crate) struct BackupArgs {
    /// Project file
    pub file: PathBuf,
    /// The copy
    #[arg(short, long, value_name = "COPY")]
    pub output: PathBuf,
}

/// `restore`
#[derive(Debug, Args)]
pub(crate) struct RestoreArgs {
    /// The backup
    pub file: PathBuf,
    /// Only check it: every entry, every picture
    #[arg(long, conflicts_with = "output", required_unless_present = "output")]
    pub check: bool,
    /// Where to put the project
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

macro_rules! choices {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
        pub(crate) enum $name { $($(#[$vdoc])* $variant),+ }
    };
}

choices!(
    /// What is to be right.
    Goal {
        /// The least sum of differences cell by cell, proven
        Exact,
        /// What the eye sees from where it stands
        Seen,
    }
);
choices!(
    /// As what the picture is to be right.
    SeenAs {
        /// The plain colour of each piece
        Laid,
        /// Standing, from straight above
        Above,
        /// Standing, from the eye point
        Standing,
        /// Fallen, from above
        Fallen,
    }
);
choices!(
    /// How the fall crosses the upright picture.
    Fall {
        /// From left to right
        Right,
        /// Upwards
        Up,
        /// From right to left
        Left,
        /// Downwards
        Down,
    }
);
choices!(
    /// How a picture meets a field.
    Fit {
        /// Fills it; what hangs over is cut off evenly
        Fill,
        /// All of it; cells beside it stay empty
        Within,
        /// Pulled to it; shapes change
        Stretch,
    }
);
choices!(
    /// Which findings make the exit status 1.
    FailOn {
        /// Must and should
        Should,
        /// Must
        Must,
    }
);
choices!(
    /// Language of the sheets.
    Language {
        /// English
        En,
        /// German
        De,
    }
);
choices!(
    /// What is called at a time.
    Unit {
        /// Lane by lane
        Lane,
        /// Rank by rank
        Rank,
    }
);
choices!(
    /// The ways to feed a field.
    Way {
        /// Ranks shifted alternately by half a lane pitch
        Brick,
        /// A turned piece for each lane beside a line along the edge
        Beside,
        /// A line that runs past the lanes at an angle
        Angled,
        /// A line along the edge with one turned piece for each lane
        InLine,
        /// One turned piece for each lane, side by side
        Echelon,
        /// Each lane two ranks later, with one piece half a lane over between
        HalfShift,
        /// Every second lane falls the other way, with the surest feed at each edge
        Opposed,
        /// One lane after another, through round turns; needs no feed
        InTurn,
    }
);
choices!(
    /// A side of a field.
    FeedSide {
        /// The left
        Left,
        /// The right
        Right,
    }
);
choices!(
    /// The builder's side.
    Side {
        /// As drawn
        Drawn,
        /// Mirrored
        Mirrored,
    }
);
choices!(
    /// A compass point.
    Compass {
        /// North
        North,
        /// East
        East,
        /// South
        South,
        /// West
        West,
    }
);
choices!(
    /// Paper.
    Paper {
        /// 210 x 297 mm
        A4,
        /// 297 x 420 mm
        A3,
        /// 8.5 x 11 in
        Letter,
    }
);
choices!(
    /// Form of an export.
    Form {
        /// Text plan with pictures and stock list
        Toml,
        /// Stock list
        Csv,
    }
);

/// Reads `120x90`.
fn pair<T: std::str::FromStr>(text: &str) -> Result<(T, T), String> {
    let parts = text
        .split_once(['x', 'X', '×'])
        .and_then(|(a, b)| Some((a.trim().parse().ok()?, b.trim().parse().ok()?)));
    parts.ok_or_else(|| format!("\"{text}\" is not WIDTHxHEIGHT; write it as 120x90"))
}

/// Reads `4.3`: accidents that are expected, so a mean and no count.
fn accidents(text: &str) -> Result<f64, String> {
    let wrong = || format!("\"{text}\" is not a number from 0.001 to 1000000000; write it as 5 or 4.3");
    text.trim().parse().ok().filter(|n| (0.001..=1e9).contains(n)).ok_or_else(wrong)
}

/// Reads `12 mm`.
fn length(text: &str) -> Result<Length, String> {
    let wrong = || format!("\"{text}\" is not a length; write it with its unit, as \"12 mm\" or \"-1.5 m\"");
    exchange::read_length(text).ok_or_else(wrong)
}

/// Reads `0.2 deg`.
fn angle(text: &str) -> Result<Angle, String> {
    let wrong = || format!("\"{text}\" is not an angle; write it with its unit, as \"0.2 deg\"");
    exchange::read_angle(text).ok_or_else(wrong)
}

/// Reads `3 m, 1.5 m`.
fn spot(text: &str) -> Result<Point, String> {
    let wrong = || format!("\"{text}\" is not EAST,NORTH; write it as \"3 m, 1.5 m\"");
    let (east, north) = text.split_once(',').ok_or_else(wrong)?;
    Ok(Point::new(length(east)?.to_mm(), length(north)?.to_mm()))
}

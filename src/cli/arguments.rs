//! What the user may type.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::documents::pdf::PaperSize;

/// Plans the heavy low-voltage cabling of a vehicle, van or boat: routes, sizes, protection, every
/// lug and clamp, a costed list of parts, cut lengths and an install plan.
#[derive(Debug, Parser)]
#[command(name = "longlead", version, arg_required_else_help = true)]
#[command(
    after_help = "Start with:  longlead new my-job.toml --like patrol-pickup\n\
                        then:        longlead plan my-job.toml --out my-plan"
)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Read a job, judge the plan for it, and write nothing
    #[command(after_help = "Example:  longlead check my-job.toml")]
    Check(CheckOptions),
    /// Write the whole pack of documents into a folder
    #[command(after_help = "Example:  longlead plan my-job.toml --out my-plan")]
    Plan(PlanOptions),
    /// Print one document
    #[command(after_help = "Example:  longlead show cuts my-job.toml\n          \
                            longlead show plan my-job.toml --as json")]
    Show(ShowOptions),
    /// Start a job file from one that comes with the program
    #[command(after_help = "Example:  longlead new my-job.toml --like weekend-van")]
    New(NewOptions),
    /// Search, explain and prove the catalog
    #[command(after_help = "Example:  longlead parts search lug 50 m8\n          \
                            longlead parts explain lug-50-fine-m8")]
    Parts(PartsOptions),
    /// Tell what a cable really is from an offcut: true size, metal, and what it may be used for
    #[command(
        after_help = "Example:  longlead cable --strands \"396 x 0.40 mm\" --weight 452g --length 1m\n          \
                            longlead cable --resistance \"0.62 mohm\" --length 1m --sold-as \"50 mm2\""
    )]
    Cable(Box<CableOptions>),
    /// Print every key of a job, shop or catalog file
    #[command(after_help = "Example:  longlead reference job")]
    Reference(ReferenceOptions),
}

/// Files that a plan is made from.
#[derive(Debug, Args)]
pub struct Files {
    /// The job file
    pub job: Option<PathBuf>,
    /// The shop file; an invented workshop when none is named
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// A folder of catalog files that add to the embedded ones or override them; may be repeated
    #[arg(long, value_name = "FOLDER")]
    pub catalog: Vec<PathBuf>,
}

/// Options of `check`.
#[derive(Debug, Args)]
pub struct CheckOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// Show passing checks too
    #[arg(long)]
    pub all: bool,
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Paper {
    /// 210 mm by 297 mm
    A4,
    /// 8.5 in by 11 in
    Letter,
}

impl From<Paper> for PaperSize {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::A4 => Self::A4,
            Paper::Letter => Self::Letter,
        }
    }
}

/// Options of `plan`.
#[derive(Debug, Args)]
pub struct PlanOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// The folder to write into
    #[arg(long, value_name = "FOLDER")]
    pub out: Option<PathBuf>,
    /// Replace documents that are there already
    #[arg(long)]
    pub replace: bool,
    /// Paper of the PDF documents
    #[arg(long, value_enum, default_value = "a4")]
    pub paper: Paper,
}

/// The documents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DocumentName {
    /// What the job takes and costs
    Bill,
    /// What to buy, by supplier
    Shopping,
    /// What to cut from which roll
    Cuts,
    /// What to crimp how
    Crimps,
    /// How thick, and why
    Sizing,
    /// Where the volts go: what every load gets, and what takes the rest
    Volts,
    /// Which metres of lead a dead short finds protected
    Faults,
    /// Every verdict with its source
    Checks,
    /// The way of every lead, its clamps and panels
    Route,
    /// What to do in which order
    Install,
    /// What to carry so that what fails on the road can be mended there
    Spares,
    /// The whole plan, for programs (json)
    Plan,
    /// The network of every state, for a circuit simulator (spice)
    Circuit,
}

/// Forms of a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FormName {
    /// Text for a terminal
    Text,
    /// Markdown
    Md,
    /// One page for a browser
    Html,
    /// Pages for print
    Pdf,
    /// Rows for a spreadsheet (bill, cuts, faults and spares)
    Csv,
    /// The data behind it
    Json,
    /// A deck for a circuit simulator (circuit)
    Spice,
}

/// Options of `show`.
#[derive(Debug, Args)]
pub struct ShowOptions {
    /// The document
    #[arg(value_enum)]
    pub document: DocumentName,
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// The form to print it in
    #[arg(long = "as", value_enum, value_name = "FORM")]
    pub form: Option<FormName>,
    /// One state alone, for the circuit
    #[arg(long, value_name = "NAME")]
    pub state: Option<String>,
    /// Width of text in columns; that of the terminal when absent
    #[arg(long, value_name = "COLUMNS")]
    pub width: Option<usize>,
    /// Paper of a PDF document
    #[arg(long, value_enum, default_value = "a4")]
    pub paper: Paper,
}

/// Options of `new`.
#[derive(Debug, Args)]
pub struct NewOptions {
    /// The file to write; it must not be there yet
    pub file: PathBuf,
    /// The job to start from; all names are listed when it is not known
    #[arg(long, value_name = "NAME")]
    pub like: String,
}

/// Options of `parts`.
#[derive(Debug, Args)]
pub struct PartsOptions {
    /// What to do with the catalog.
    #[command(subcommand)]
    pub action: PartsAction,
    /// A folder of catalog files that add to the embedded ones or override them; may be repeated
    #[arg(long, value_name = "FOLDER", global = true)]
    pub catalog: Vec<PathBuf>,
}

/// What to do with the catalog.
#[derive(Debug, Subcommand)]
pub enum PartsAction {
    /// List the parts whose id, kind or description holds all the words
    Search {
        /// The words
        #[arg(required = true)]
        words: Vec<String>,
    },
    /// Tell all about one part: its figures' source and who offers it
    Explain {
        /// Id of the part
        part: String,
    },
    /// Count the parts of each kind
    Count,
    /// Prove that the catalog has no holes
    Lint,
}

/// Options of `cable`: what was measured on an offcut, the insulation off.
#[derive(Debug, Args)]
pub struct CableOptions {
    /// Strands and their diameter, such as "396 x 0.40 mm"
    #[arg(long, value_name = "STRANDS")]
    pub strands: Option<String>,
    /// Weight of the length, insulation off
    #[arg(long, value_name = "WEIGHT")]
    pub weight: Option<String>,
    /// Resistance of the length, by four wires
    #[arg(long, value_name = "RESISTANCE")]
    pub resistance: Option<String>,
    /// The length that was weighed or measured
    #[arg(long, value_name = "LENGTH", default_value = "1 m")]
    pub length: String,
    /// Temperature of the conductor when its resistance was measured
    #[arg(
        long,
        value_name = "TEMPERATURE",
        default_value = "20 C",
        allow_hyphen_values = true
    )]
    pub temperature: String,
    /// Diameter over the bare conductor
    #[arg(long, value_name = "DIAMETER")]
    pub diameter: Option<String>,
    /// What it is sold as
    #[arg(long, value_name = "SIZE")]
    pub sold_as: Option<String>,
    /// Whose table of currents counts: road vehicle, small craft or competition
    #[arg(long, value_name = "SETTING", default_value = "road vehicle")]
    pub setting: String,
    /// How far the strand's diameter may be off, instead of the catalog's figure
    #[arg(long, value_name = "LENGTH")]
    pub strand_doubt: Option<String>,
    /// How far the conductor's diameter may be off
    #[arg(long, value_name = "PERCENT")]
    pub diameter_doubt: Option<String>,
    /// How far the weight may be off
    #[arg(long, value_name = "PERCENT")]
    pub weight_doubt: Option<String>,
    /// How far the length may be off
    #[arg(long, value_name = "PERCENT")]
    pub length_doubt: Option<String>,
    /// How far the resistance may be off
    #[arg(long, value_name = "PERCENT")]
    pub resistance_doubt: Option<String>,
    /// The form to print it in: text or json
    #[arg(long = "as", value_enum, value_name = "FORM", default_value = "text")]
    pub form: FormName,
    /// A folder of catalog files that add to the embedded ones or override them; may be repeated
    #[arg(long, value_name = "FOLDER")]
    pub catalog: Vec<PathBuf>,
}

/// Options of `reference`.
#[derive(Debug, Args)]
pub struct ReferenceOptions {
    /// Which file
    #[arg(value_enum)]
    pub file: FileKind,
}

/// The files that the program reads.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum FileKind {
    /// The job file
    Job,
    /// The shop file
    Shop,
    /// A catalog file
    Catalog,
}

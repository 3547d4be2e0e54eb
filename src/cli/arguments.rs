//! What the user may type.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::documents::pdf::PaperSize;
use crate::quantity::{Date, Quantity};

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
    /// Set a job and its variants, or several jobs, side by side
    #[command(after_help = "Example:  longlead compare my-job.toml\n          \
                            longlead compare my-job.toml --variant \"thicker main\"\n          \
                            longlead compare one.toml other.toml --as pdf")]
    Compare(CompareOptions),
    /// Tell what a part that is not to be had changes, or a variant: two plans line by line
    #[command(
        after_help = "Example:  longlead changes my-job.toml --without lug-70-fine-m8\n          \
                            longlead changes my-job.toml --variant \"thicker main\""
    )]
    Changes(ChangesOptions),
    /// Start a job file from one that comes with the program
    #[command(after_help = "Example:  longlead new my-job.toml --like weekend-van")]
    New(NewOptions),
    /// Write the shop file with the stock as it is once a job is bought and built
    #[command(
        after_help = "Example:  longlead stock my-job.toml --shop my-shop.toml --out my-shop-after.toml"
    )]
    Stock(StockOptions),
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
    /// Start the record of a vehicle, or print it on one page for the next owner
    #[command(
        after_help = "Example:  longlead record my-job.toml my-record.toml --start\n          \
                            longlead record my-job.toml my-record.toml --as pdf"
    )]
    Record(RecordOptions),
    /// Tell what the readings in a record say: what does not agree, what is to blame, what is ageing
    #[command(after_help = "Example:  longlead verify my-job.toml my-record.toml")]
    Verify(VerifyOptions),
    /// Print every key of a job, shop, record or catalog file
    #[command(after_help = "Example:  longlead reference job")]
    Reference(ReferenceOptions),
}

/// Files that a plan is made from.
#[derive(Debug, Args)]
pub struct Files {
    /// The job file
    pub job: Option<PathBuf>,
    /// A variant of the job, in place of the job itself
    #[arg(long, value_name = "NAME")]
    pub variant: Option<String>,
    /// The workshop and its catalog.
    #[command(flatten)]
    pub workshop: Workshop,
}

/// What jobs are planned with.
#[derive(Debug, Args)]
pub struct Workshop {
    /// The shop file; an invented workshop when none is named
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// A folder of catalog files that add to the embedded ones or override them; may be repeated
    #[arg(long, value_name = "FOLDER")]
    pub catalog: Vec<PathBuf>,
    /// A folder of templates that take the place of the embedded ones, instead of the shop file's
    #[arg(long, value_name = "FOLDER")]
    pub templates: Option<PathBuf>,
    /// A part that is not to be had; the next best fit takes its place; may be repeated
    #[arg(long, value_name = "PART")]
    pub without: Vec<String>,
    /// A part to take before others that fit as well; may be repeated
    #[arg(long, value_name = "PART")]
    pub prefer: Vec<String>,
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

/// What stands at the head of a quote.
#[derive(Debug, Args)]
pub struct QuoteOptions {
    /// Number of the quote; {year}, {month} and {day} stand for those of its date
    #[arg(long, value_name = "NUMBER")]
    pub number: Option<String>,
    /// Date of the quote, such as 2026-11-25; the last day on which it holds follows from it
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub date: Option<Date>,
    /// A variant of the job to offer beside it in the quote; two at most
    #[arg(long, value_name = "VARIANT")]
    pub beside: Vec<String>,
}

fn date(text: &str) -> Result<Date, String> {
    Date::parse(text).map_err(|error| error.to_string())
}

/// Options of `plan`.
#[derive(Debug, Args)]
pub struct PlanOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// Head of the quote.
    #[command(flatten)]
    pub quote: QuoteOptions,
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
    /// What it costs the customer
    Quote,
    /// What the quote costs the workshop, and what is left
    Costing,
    /// What to cut from which roll
    Cuts,
    /// What to crimp how
    Crimps,
    /// What to write on both ends of every cable
    Labels,
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
    /// Every hole in a panel at its true size
    Drill,
    /// Sources, devices, buses and loads, and which lead joins them
    Diagram,
    /// The vehicle from above and from the side, where places say where they are
    Layout,
    /// What to do in which order
    Install,
    /// What a meter should show, point by point
    Readings,
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
    /// Rows for a spreadsheet (bill, shopping, quote, costing, cuts, labels, faults, readings and spares)
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
    /// Head of the quote.
    #[command(flatten)]
    pub quote: QuoteOptions,
    /// The form to print it in
    #[arg(long = "as", value_enum, value_name = "FORM")]
    pub form: Option<FormName>,
    /// One state alone, for the circuit
    #[arg(long, value_name = "NAME")]
    pub state: Option<String>,
    /// Dead shorts after the states, for the circuit
    #[arg(long, conflicts_with = "state")]
    pub shorts: bool,
    /// Width of text in columns; that of the terminal when absent
    #[arg(long, value_name = "COLUMNS")]
    pub width: Option<usize>,
    /// Paper of a PDF document
    #[arg(long, value_enum, default_value = "a4")]
    pub paper: Paper,
}

/// Options of `compare`.
#[derive(Debug, Args)]
pub struct CompareOptions {
    /// The job file, whose variants are compared; or several job files
    pub jobs: Vec<PathBuf>,
    /// A variant to show; all when none is named; may be repeated
    #[arg(long, value_name = "NAME")]
    pub variant: Vec<String>,
    /// The workshop and its catalog.
    #[command(flatten)]
    pub workshop: Workshop,
    /// How to print it.
    #[command(flatten)]
    pub printing: Printing,
}

/// Options of `changes`.
#[derive(Debug, Args)]
pub struct ChangesOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// How to print it.
    #[command(flatten)]
    pub printing: Printing,
}

/// How a document of several plans is printed.
#[derive(Debug, Args)]
pub struct Printing {
    /// The form to print it in
    #[arg(long = "as", value_enum, value_name = "FORM", default_value = "text")]
    pub form: FormName,
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

/// Options of `stock`.
#[derive(Debug, Args)]
pub struct StockOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// The shop file to write, comments and all
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// Replace the file if it is there already
    #[arg(long)]
    pub replace: bool,
}

/// Options of `record`.
#[derive(Debug, Args)]
pub struct RecordOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// The record file: what was really cut, bought and measured
    pub record: Option<PathBuf>,
    /// Write a new record file with every reading to take; it must not be there yet
    #[arg(long)]
    pub start: bool,
    /// How to print it.
    #[command(flatten)]
    pub printing: Printing,
}

/// Options of `verify`.
#[derive(Debug, Args)]
pub struct VerifyOptions {
    /// Files.
    #[command(flatten)]
    pub files: Files,
    /// The record file, with the readings
    pub record: Option<PathBuf>,
    /// How to print it.
    #[command(flatten)]
    pub printing: Printing,
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
    /// The record file
    Record,
    /// A catalog file
    Catalog,
}

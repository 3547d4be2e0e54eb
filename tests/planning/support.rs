//! Plans made from the files of the tree.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::{Arc, LazyLock, Mutex, OnceLock};

use longlead::catalog::Catalog;
use longlead::diagnostic::{Sources, render};
use longlead::documents::view::PlanView;
use longlead::drawings::{self, Drawing, Scene};
use longlead::job::{self, Job};
use longlead::method::StepLibrary;
use longlead::plan::{self, Extras, Inputs, Plan};
use longlead::shop::{self, ShopFile};

/// The root of the tree.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The TOML files of a folder, by name.
pub fn files(folder: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(root().join(folder))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.sort();
    assert!(!files.is_empty(), "no jobs in {folder}");
    files
}

/// What all plans share; read once.
pub struct Workshop {
    pub catalog: Catalog,
    pub library: StepLibrary,
    pub shop: ShopFile,
}

pub static WORKSHOP: LazyLock<Workshop> = LazyLock::new(|| {
    let mut sources = Sources::default();
    let catalog = Catalog::embedded(&mut sources).unwrap();
    let library = StepLibrary::embedded(&mut sources).unwrap();
    let text = fs::read_to_string(root().join("templates/shops/workbench.toml")).unwrap();
    let source = sources.add("workbench.toml", text);
    let shop = shop::load(source, &sources, &catalog).unwrap();
    Workshop {
        catalog,
        library,
        shop,
    }
});

/// A job with its plan.
pub struct Planned {
    pub job: Job,
    pub plan: Plan,
}

impl Planned {
    /// The plan of a file, made once for all tests.
    pub fn of_file(path: &Path) -> &'static Self {
        static MADE: Mutex<BTreeMap<PathBuf, &'static OnceLock<Planned>>> =
            Mutex::new(BTreeMap::new());
        let cell = {
            let mut made = MADE.lock().unwrap();
            *made
                .entry(path.to_owned())
                .or_insert_with(|| Box::leak(Box::default()))
        };
        // Many random jobs are judged, and nobody packs for them.
        let random = path
            .components()
            .any(|part| part.as_os_str() == "simulator");
        let extras = if random { Extras::NONE } else { Extras::ALL };
        let text = || fs::read_to_string(path).unwrap();
        cell.get_or_init(|| Self::with(Self::job_of(&text()), extras))
    }

    pub fn of_text(text: &str) -> Self {
        Self::of_job(Self::job_of(text))
    }

    fn job_of(text: &str) -> Job {
        let mut sources = Sources::default();
        let source = sources.add("job.toml", text);
        job::load(source, &sources, &WORKSHOP.catalog)
            .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)))
    }

    pub fn of_job(job: Job) -> Self {
        Self::with(job, Extras::ALL)
    }

    fn with(job: Job, extras: Extras) -> Self {
        let inputs = Inputs {
            job: &job,
            shop: &WORKSHOP.shop,
            catalog: &WORKSHOP.catalog,
            library: &WORKSHOP.library,
        };
        let plan = plan::make(inputs, extras);
        Self { job, plan }
    }

    pub fn drawings(&self) -> Vec<Arc<Drawing>> {
        let scene = Scene {
            job: &self.job,
            plan: &self.plan,
            catalog: &WORKSHOP.catalog,
        };
        drawings::all(scene).into_iter().map(Arc::new).collect()
    }

    pub fn view(&self) -> PlanView {
        PlanView::of(&self.plan, &self.job, &WORKSHOP.catalog)
    }
}

/// A shop file.
pub fn shop(text: &str) -> ShopFile {
    let mut sources = Sources::default();
    let source = sources.add("shop.toml", text);
    shop::load(source, &sources, &WORKSHOP.catalog)
        .unwrap_or_else(|mistakes| panic!("{}", render(&mistakes, &sources, false)))
}

/// A folder of its own for one test, taken away afterwards.
pub struct Bench(pub PathBuf);

impl Bench {
    /// An empty folder.
    pub fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("longlead-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        Self(folder)
    }

    /// Runs the program in the folder.
    pub fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_longlead"))
            .args(arguments)
            .current_dir(&self.0)
            .env("NO_COLOR", "1")
            .env_remove("COLUMNS")
            .output()
            .unwrap()
    }

    /// Runs and expects an exit status; gives what was printed and what was complained of.
    pub fn expect(&self, status: i32, arguments: &[&str]) -> (String, String) {
        let output = self.run(arguments);
        let out = String::from_utf8_lossy(&output.stdout).into_owned();
        let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(
            output.status.code(),
            Some(status),
            "{arguments:?}\n{out}\n{complaint}"
        );
        (out, complaint)
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

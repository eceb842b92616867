//! The native benchmark: a record and its scan through the library, stage by stage.
//!
//! `cargo bench --bench native -- FOLDER [RUNS]` reads `record.json` in FOLDER, prints the best of
//! RUNS runs and leaves `native.json` (the figures) and `sheet.json` (the results) there. Nothing
//! fails because of a time.

use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::Instant;

use focalsheet::analysis::{BandRunner, assemble, prepare, survey};
use focalsheet::base::error::Problems;
use focalsheet::base::sheet::InputFile;
use focalsheet::formats::source::{FileSet, Source, SourceError};
use focalsheet::outputs::outputs;
use focalsheet::record;
use focalsheet::report::wording::en::English;

/// Best time of each stage, s.
#[derive(Clone, Copy)]
struct Stages {
    /// Record, files, axes.
    prepare: f64,
    survey: f64,
    bands: f64,
    /// Maps, peaks, widths, area, power.
    assemble: f64,
    /// Words, figures, HTML, JSON, CSV.
    sheet: f64,
}

impl Stages {
    fn all(&self) -> f64 {
        self.prepare + self.survey + self.bands + self.assemble + self.sheet
    }
}

struct Run {
    stages: Stages,
    waveforms: usize,
    bytes: u64,
    json: String,
}

fn main() -> Result<(), String> {
    let words: Vec<String> =
        std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let Some(folder) = words.first().map(Path::new) else {
        // `cargo bench` without arguments runs every bench: there is nothing to measure then.
        return say("native: skipped, no folder named; tests/bench/run.sh makes one and names it");
    };
    let runs =
        words.get(1).map_or(Ok(3), |n| n.parse::<usize>()).map_err(|error| error.to_string())?;
    let mut best = once(folder)?;
    for _ in 1..runs {
        let next = once(folder)?;
        if next.stages.all() < best.stages.all() {
            best = next;
        }
    }
    report(folder, &best)
}

/// One run, from opening the files to the finished sheet.
fn once(folder: &Path) -> Result<Run, String> {
    let told = |problems: Problems| format!("{problems:?}");
    let mut clock = Instant::now();
    let mut lap = move || std::mem::replace(&mut clock, Instant::now()).elapsed().as_secs_f64();
    let text = fs::read_to_string(folder.join("record.json")).map_err(|error| error.to_string())?;
    let typed = record::read(&text, "record.json").map_err(told)?;
    let (files, inputs) = gather(folder)?;
    let prepared = prepare(typed, &files).map_err(told)?;
    let prepare = lap();
    let plan = survey(&prepared).map_err(told)?;
    let survey = lap();
    let mut runner = BandRunner::default();
    let mut tables = Vec::new();
    for (scan, part) in prepared.scans.iter().enumerate() {
        let mut rows = Vec::new();
        for index in 0..part.scan.bands().len() {
            rows.extend(
                runner
                    .band(&prepared, &plan, scan, index)
                    .map_err(|problem| told(vec![problem]))?,
            );
        }
        tables.push(rows);
    }
    let bands = lap();
    let results = assemble(&prepared, &plan, &tables).map_err(told)?;
    let assemble = lap();
    let value = serde_json::from_str(&text).map_err(|error| error.to_string())?;
    let made = outputs(&results, value, &inputs, &English).map_err(told)?;
    let sheet = lap();
    Ok(Run {
        stages: Stages { prepare, survey, bands, assemble, sheet },
        waveforms: prepared.scans.iter().map(|part| part.scan.points()).sum(),
        bytes: prepared.scans.iter().map(|part| part.scan.bytes).sum(),
        json: made.json,
    })
}

fn report(folder: &Path, run: &Run) -> Result<(), String> {
    let Stages { prepare, survey, bands, assemble, sheet } = run.stages;
    let per_second = run.waveforms as f64 / bands;
    let mb_per_s = run.bytes as f64 / 1e6 / bands;
    let peak_mib = peak_memory_mib();
    let memory = peak_mib.map_or("not available here".to_owned(), |mib| format!("{mib:.0} MiB"));
    say(&format!("native, {} waveforms, {:.1} MB", run.waveforms, run.bytes as f64 / 1e6))?;
    say(&format!(
        "  prepare {prepare:.3} s, survey {survey:.3} s, bands {bands:.3} s, assemble {assemble:.3} s, sheet {sheet:.3} s"
    ))?;
    say(&format!("  bands: {per_second:.0} waveforms/s, {mb_per_s:.0} MB/s"))?;
    say(&format!("  files to sheet {:.3} s; peak memory {memory}", run.stages.all()))?;
    let figures = serde_json::json!({
        "waveforms": run.waveforms, "bytes": run.bytes, "prepare_s": prepare, "survey_s": survey,
        "bands_s": bands, "assemble_s": assemble, "sheet_s": sheet, "to_sheet_s": run.stages.all(),
        "waveforms_per_s": per_second, "mb_per_s": mb_per_s, "peak_mib": peak_mib,
    });
    let write = |name: &str, text: &str| {
        fs::write(folder.join(name), text).map_err(|error| error.to_string())
    };
    write("native.json", &figures.to_string())?;
    write("sheet.json", &run.json)
}

fn say(line: &str) -> Result<(), String> {
    writeln!(std::io::stdout(), "{line}").map_err(|error| error.to_string())
}

/// Largest resident size so far (`VmHWM`), MiB; Linux tells it, other systems are not asked.
fn peak_memory_mib() -> Option<f64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    Some(line.trim().trim_end_matches("kB").trim().parse::<f64>().ok()? / 1024.0)
}

/// The scan files and tables of a folder. Checksums are left out: the page makes them after the sheet.
fn gather(folder: &Path) -> Result<(FileSet, Vec<InputFile>), String> {
    let (mut files, mut inputs) = (FileSet::default(), Vec::new());
    for (name, role) in [("scan.h5", "plane"), ("sensitivity.csv", "response")] {
        let file = Disk::open(&folder.join(name)).map_err(|error| format!("{name}: {error}"))?;
        inputs.push(InputFile {
            name: name.into(),
            role: role.into(),
            bytes: file.len,
            sha256: None,
        });
        files.insert(name, Arc::new(file));
    }
    Ok((files, inputs))
}

/// A file on disk; the library itself opens none.
struct Disk {
    file: Mutex<File>,
    len: u64,
}

impl Disk {
    fn open(path: &Path) -> std::io::Result<Self> {
        let file = File::open(path)?;
        Ok(Self { len: file.metadata()?.len(), file: Mutex::new(file) })
    }
}

impl Source for Disk {
    fn len(&self) -> u64 {
        self.len
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> Result<(), SourceError> {
        let wanted = buffer.len() as u64;
        let failed = |detail: String| SourceError { offset, wanted, len: self.len, detail };
        let mut file = self.file.lock().map_err(|error| failed(error.to_string()))?;
        file.seek(SeekFrom::Start(offset)).map_err(|error| failed(error.to_string()))?;
        file.read_exact(buffer).map_err(|error| failed(error.to_string()))
    }
}

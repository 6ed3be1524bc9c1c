//! The outputs of an archive: written from the journal, complete before the first of them gets its name.

use std::io::{self, Write};
use std::path::Path;

use jiff::civil::Date;
use sha2::{Digest, Sha256};

use super::ArchiveArgs;
use super::work::Done;
use crate::archive::{FoundAt, GateRow, Output, Summary, archive_json};
use crate::cli::output::{Claim, Draft, Kind, Set, WriteError};
use crate::cli::stop::Stop;
use crate::ingest;
use crate::report::archive::overview;
use crate::report::cautions::cautions;
use crate::view::column::columns;
use crate::view::table::CsvTable;
use crate::words::{Language, Words};

/// Name of the page.
pub(super) const OVERVIEW: &str = "overview.html";
const GATES: &str = "gates.csv";
const FINDINGS: &str = "findings.csv";
const RECORD: &str = "archive.json";
const PARQUET: [&str; 2] = ["gates.parquet", "findings.parquet"];

/// What was asked for.
pub(super) struct Wishes<'a> {
    tree: &'a Path,
    profile: Option<&'a str>,
    parquet: bool,
    today: Date,
}

impl<'a> Wishes<'a> {
    pub(super) fn new(args: &'a ArchiveArgs, today: Date) -> Self {
        Self {
            tree: &args.tree,
            profile: args.profile.as_deref(),
            parquet: args.parquet,
            today,
        }
    }
}

/// What was written.
pub(super) struct Written {
    pub(super) summary: Summary,
    pub(super) json: Vec<u8>,
}

/// Writes all outputs and tidies the journal.
///
/// # Errors
/// [`Stop`] if one cannot be written; then none is.
pub(super) fn outputs(
    done: &Done,
    out: &Path,
    claim: Claim,
    wishes: &Wishes<'_>,
) -> Result<Written, Stop> {
    let mut files = Set::under(out, claim);
    let mut listed = Vec::new();
    let mut summary = Summary::new(wishes.today);
    tables(done, out, &mut files, &mut summary, &mut listed)?;
    if wishes.parquet {
        #[cfg(feature = "parquet")]
        parquet(done, out, &mut files, &mut listed)?;
    } else {
        for name in PARQUET {
            files.without(name, Kind::Parquet)?;
        }
    }
    let tree = wishes.tree.display().to_string();
    let words = Words::of(Language::English);
    let page = overview(words, &summary, &tree, wishes.profile);
    files.add(OVERVIEW, Kind::Page, &page)?;
    listed.push(Output {
        file: OVERVIEW.to_owned(),
        sha256: ingest::sha256(&page),
    });
    let json = archive_json(
        &summary,
        wishes.profile,
        &listed,
        &cautions(Words::of(Language::English)),
    )
    .map_err(Stop::fault)?;
    files.add(RECORD, Kind::Json("archive"), &json)?;
    files.publish()?;
    done.tidy()?;
    Ok(Written { summary, json })
}

fn tables(
    done: &Done,
    out: &Path,
    files: &mut Set,
    summary: &mut Summary,
    listed: &mut Vec<Output>,
) -> Result<(), Stop> {
    let failed = |name: &'static str| {
        move |error: csv::Error| Stop::from(WriteError::new(&out.join(name), error.into()))
    };
    let mut gates = CsvTable::of::<GateRow>(Hashed::new(
        files.draft(GATES, Kind::Table(columns::<GateRow>))?,
    ))
    .map_err(failed(GATES))?;
    let mut findings = CsvTable::of::<FoundAt<'_>>(Hashed::new(
        files.draft(FINDINGS, Kind::Table(columns::<FoundAt<'_>>))?,
    ))
    .map_err(failed(FINDINGS))?;
    done.each(|assessed| {
        gates.add(&assessed.gate).map_err(failed(GATES))?;
        for row in assessed.rows() {
            findings.add(&row).map_err(failed(FINDINGS))?;
        }
        summary.add(assessed);
        Ok(())
    })?;
    for (name, table) in [
        (GATES, gates.finish().map_err(failed(GATES))?),
        (FINDINGS, findings.finish().map_err(failed(FINDINGS))?),
    ] {
        listed.push(table.listed(name));
        files.add_draft(table.draft)?;
    }
    Ok(())
}

#[cfg(feature = "parquet")]
fn parquet(done: &Done, out: &Path, files: &mut Set, listed: &mut Vec<Output>) -> Result<(), Stop> {
    use crate::view::parquet::{ParquetError, ParquetTable};

    let failed = |name: &'static str| {
        move |error: ParquetError| {
            Stop::from(WriteError::new(&out.join(name), io::Error::other(error)))
        }
    };
    let [gates_file, findings_file] = PARQUET;
    let mut gates =
        ParquetTable::of::<GateRow>(Hashed::new(files.draft(gates_file, Kind::Parquet)?))
            .map_err(failed(gates_file))?;
    let mut findings =
        ParquetTable::of::<FoundAt<'_>>(Hashed::new(files.draft(findings_file, Kind::Parquet)?))
            .map_err(failed(findings_file))?;
    done.each(|assessed| {
        gates.add(&assessed.gate).map_err(failed(gates_file))?;
        for row in assessed.rows() {
            findings.add(&row).map_err(failed(findings_file))?;
        }
        Ok(())
    })?;
    for (name, table) in [
        (gates_file, gates.finish().map_err(failed(gates_file))?),
        (
            findings_file,
            findings.finish().map_err(failed(findings_file))?,
        ),
    ] {
        listed.push(table.listed(name));
        files.add_draft(table.draft)?;
    }
    Ok(())
}

/// A draft and the digest of what was written to it.
struct Hashed {
    draft: Draft,
    digest: Sha256,
}

impl Hashed {
    fn new(draft: Draft) -> Self {
        Self {
            draft,
            digest: Sha256::new(),
        }
    }

    fn listed(&self, name: &str) -> Output {
        Output {
            file: name.to_owned(),
            sha256: ingest::hexadecimal(&self.digest.clone().finalize()),
        }
    }
}

impl Write for Hashed {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.draft.write(bytes)?;
        self.digest.update(&bytes[..written]);
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.draft.flush()
    }
}

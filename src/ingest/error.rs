//! Why a log was refused.

/// A form of files of measurements that is not read, but from which a table can be exported.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Foreign {
    /// Streams of a measuring program, `.tdms`.
    #[error("a TDMS file")]
    Tdms,
    /// Variables of a computing program, `.mat` before 7.3.
    #[error("a MAT file")]
    Mat,
    /// HDF5, `.h5` and `.mat` from 7.3 on.
    #[error("an HDF5 file")]
    Hdf5,
    /// Channels of a bus logger, `.mf4` and `.mdf`.
    #[error("an MDF file")]
    Mdf,
    /// A workbook of the old binary form, `.xls`.
    #[error("a workbook of the binary form (.xls)")]
    Xls,
    /// A workbook of the OpenDocument form, `.ods`.
    #[error("a workbook of the OpenDocument form (.ods)")]
    Ods,
}

impl Foreign {
    /// The form that bytes begin like.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Option<Self> {
        // The first file of such a workbook is its type, as it is.
        const ODS: &[u8] = b"mimetypeapplication/vnd.oasis.opendocument.spreadsheet";
        const HEAD: usize = 30;
        if bytes.starts_with(b"PK") && bytes.get(HEAD..).is_some_and(|it| it.starts_with(ODS)) {
            return Some(Self::Ods);
        }
        const STARTS: [(&[u8], Foreign); 6] = [
            (b"TDSm", Foreign::Tdms),
            (b"MATLAB 5.0 MAT-file", Foreign::Mat),
            (b"MATLAB 7.3 MAT-file", Foreign::Hdf5),
            (b"\x89HDF\r\n\x1a\n", Foreign::Hdf5),
            (b"MDF     ", Foreign::Mdf),
            (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", Foreign::Xls),
        ];
        let found = STARTS.iter().find(|(start, _)| bytes.starts_with(start));
        found.map(|(_, format)| *format)
    }
}

/// Why a log was refused. Every text names the line; none gives advice.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// No byte, or nothing but white space.
    #[error("line 1: the log is empty: expected rows of numbers")]
    Empty,
    /// Bytes that are no text.
    #[error("line {line}: the file is not text: expected rows of numbers")]
    Binary {
        /// Line, from 1.
        line: u64,
    },
    /// Text in a format that is no table.
    #[error("line 1: the file is {what}: expected rows of numbers")]
    OtherFormat {
        /// `a PDF document` …
        what: &'static str,
    },
    /// A file of measurements in a form that is not read.
    #[error("line 1: the file is {format}: expected rows of numbers as text")]
    Foreign {
        /// Its form.
        format: Foreign,
    },
    /// Text without rows of numbers.
    #[error(
        "line {line}: found `{found}` and no rows of numbers after it: expected rows of numbers"
    )]
    NoNumbers {
        /// First line that is not blank.
        line: u64,
        /// Its text.
        found: String,
    },
    /// A line beyond all measure.
    #[error("line {line}: {bytes} bytes in one line: expected at most {most}")]
    LineTooLong {
        /// Line, from 1.
        line: u64,
        /// Its length.
        bytes: usize,
        /// Most that is read.
        most: usize,
    },
    /// A row beyond all measure.
    #[error("line {line}: more than {most} cells in one row: expected at most {most}")]
    TooManyCells {
        /// Line, from 1.
        line: u64,
        /// Most that is read.
        most: usize,
    },
    /// The delimiter that a person named makes no rows.
    #[error("line {line}: found `{found}`: expected cells parted by `{delimiter}`, as answered")]
    DelimiterDoesNotFit {
        /// Line, from 1.
        line: u64,
        /// The answer.
        delimiter: char,
        /// The line.
        found: String,
    },
    /// A column that a person named and the log does not have.
    #[error("line {line}: there is no column `{asked}`: expected one of {columns}")]
    NoSuchColumn {
        /// First row of the log.
        line: u64,
        /// The answer.
        asked: String,
        /// The columns there are.
        columns: String,
    },
    /// A name that several columns have.
    #[error(
        "line {line}: the name `{asked}` stands over the columns {columns:?}: expected a name of one column"
    )]
    ColumnNotUnique {
        /// First row of the log.
        line: u64,
        /// The answer.
        asked: String,
        /// Their numbers, from 1.
        columns: Vec<usize>,
    },
    /// A name was given, but it cannot be told which column it stands over.
    #[error(
        "line {line}: `{asked}` is head {column} of {heads} over rows of {width} cells: expected as many heads as cells"
    )]
    HeadsDoNotFit {
        /// First row of the log.
        line: u64,
        /// The answer.
        asked: String,
        /// Number of heads.
        heads: usize,
        /// Number of cells.
        width: usize,
        /// Number of the head, from 1.
        column: usize,
    },
    /// One column in two places.
    #[error("line {line}: column `{asked}` is named twice: expected different columns")]
    ColumnTwice {
        /// First row of the log.
        line: u64,
        /// The answer.
        asked: String,
    },
    /// A rate that the log's own clock contradicts.
    #[error(
        "line {line}: the sampling rate {given} Hz does not agree with {column}, which gives {own} Hz: expected a rate within 2 % of it"
    )]
    RateAgainstClock {
        /// First row of the log.
        line: u64,
        /// The clock.
        column: String,
        /// The rate given or declared.
        given: f64,
        /// The rate of the clock.
        own: f64,
    },
    /// A run that the log does not have.
    #[error("line {line}: there is no run {asked}: expected 1 to {runs}")]
    NoSuchRun {
        /// First row of the log.
        line: u64,
        /// The answer.
        asked: usize,
        /// Number of runs.
        runs: usize,
    },
    /// Runs that cannot be one.
    #[error("line {line}: the clock runs back: expected one run, as answered")]
    RunsApart {
        /// First row of the second run.
        line: u64,
    },
    /// Rows, but none with an instant and a force.
    #[error(
        "line {line}: no row from here on has both an instant and a force in column `{column}`: expected numbers"
    )]
    NoSample {
        /// First row of the log.
        line: u64,
        /// Head or number of the force column.
        column: String,
    },
    /// A container that cannot be opened.
    #[error("line 1: the {container} cannot be unpacked: {reason}")]
    Container {
        /// `gzip file`, `zip archive`, `workbook`
        container: &'static str,
        /// What the unpacker says.
        reason: String,
    },
    /// A container with more in it than is read.
    #[error("line 1: the {container} unpacks to more than {most} bytes: expected at most that")]
    TooLarge {
        /// `gzip file`, `zip archive`
        container: &'static str,
        /// Most that is read.
        most: u64,
    },
    /// A zip archive without a log, or without the one that a person named.
    #[error("line 1: the zip archive holds {count} files ({}{}): expected {} among them", names.join(", "), if names.len() < *count { ", …" } else { "" }, asked.as_deref().unwrap_or("a log"))]
    NoLog {
        /// The name of the log that a person chose.
        asked: Option<String>,
        /// How many files it holds, but for folders and what operating systems leave behind.
        count: usize,
        /// Names of what it holds, the first of them.
        names: Vec<String>,
    },
    /// A workbook that does not hold one sheet with numbers.
    #[error("line 1: the workbook holds {} sheets with numbers ({}): expected one", names.len(), names.join(", "))]
    NotOneSheet {
        /// Their names.
        names: Vec<String>,
    },
    /// A workbook, and no reader for it in this build.
    #[error(
        "line 1: the file is a workbook, which this build does not read: expected a table as text, or a build with the feature `xlsx`"
    )]
    Workbook,
    /// Numbers that make no record.
    #[error("line {line}: the rows make no record: {source}")]
    Record {
        /// First row of the run.
        line: u64,
        /// Why not.
        source: crate::trace::TraceError,
    },
}

//! Columns and cells: what a row becomes in a table.

use std::borrow::Cow;

use jiff::civil::Date;
use serde::Serialize;

use super::RowKind;
use crate::fact::Fact;
use crate::limits::{Bound, Direction, Hazard, Motion, SourceKind, TestPoint, VisitKind};
use crate::measure::Measure;
use crate::verdict::{DecisionRule, Verdict};
use crate::words::Said;

/// A value of a table; inside `None` where there is none.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell<'a> {
    /// Text, UTF-8.
    Text(Option<Cow<'a, str>>),
    /// A number.
    Number(Option<f64>),
    /// A whole number.
    Whole(Option<i64>),
    /// A day.
    Day(Option<Date>),
    /// True or false.
    Flag(Option<bool>),
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Kind {
    Text,
    Number,
    Whole,
    Day,
    Flag,
}

impl Kind {
    /// The word of the help.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Number => "number",
            Self::Whole => "whole number",
            Self::Day => "day",
            Self::Flag => "true or false",
        }
    }
}

/// A column of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its heading; ends in the unit where it has one.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// What it means.
    pub meaning: &'static str,
}

impl Column {
    /// Its cell where there is no value.
    #[must_use]
    pub const fn empty<'a>(&self) -> Cell<'a> {
        match self.kind {
            Kind::Text => Cell::Text(None),
            Kind::Number => Cell::Number(None),
            Kind::Whole => Cell::Whole(None),
            Kind::Day => Cell::Day(None),
            Kind::Flag => Cell::Flag(None),
        }
    }
}

/// What is one column of a table, or several beside each other.
pub trait Columns {
    /// The columns of a field of this name and meaning.
    fn columns(name: &'static str, meaning: &'static str) -> Vec<Column>;

    /// The cells, as many as there are columns; without a value where `it` is `None`.
    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>);
}

/// The columns of a table whose rows are of one type.
#[must_use]
pub fn columns<Row: Columns>() -> Vec<Column> {
    Row::columns("", "")
}

/// The cells of a row.
#[must_use]
pub fn cells<Row: Columns>(row: &Row) -> Vec<Cell<'_>> {
    let mut cells = Vec::new();
    Row::cells(Some(row), &mut cells);
    cells
}

/// Declares a row: a struct whose fields are columns, in this order. What is said of a field is the meaning of its column, in the help and
/// in the JSON Schema; `name?: T` is a value that may be absent; attributes stand before the type.
macro_rules! row {
    (
        $(#[$of_row:meta])*
        pub struct $Row:ident {
            $(
                $(#[doc = $meaning:literal])+
                $name:ident
                $(?: $(#[$of_maybe:meta])* $Maybe:ty)?
                $(: $(#[$of_sure:meta])* $Sure:ty)?
            ),+ $(,)?
        }
    ) => {
        $(#[$of_row])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        pub struct $Row {
            $(
                $(#[doc = $meaning])+
                $(
                    #[serde(default, skip_serializing_if = "Option::is_none")]
                    $(#[$of_maybe])*
                    pub $name: Option<$Maybe>,
                )?
                $(
                    $(#[$of_sure])*
                    pub $name: $Sure,
                )?
            )+
        }

        impl $crate::view::column::Columns for $Row {
            fn columns(_: &'static str, _: &'static str) -> Vec<$crate::view::column::Column> {
                let fields = [$(
                    <$($Maybe)? $($Sure)? as $crate::view::column::Columns>::columns(
                        stringify!($name),
                        concat!($($meaning),+).trim_ascii_start(),
                    )
                ),+];
                fields.concat()
            }

            fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<$crate::view::column::Cell<'a>>) {
                $(
                    $(<$Maybe as $crate::view::column::Columns>::cells(it.and_then(|it| it.$name.as_ref()), to);)?
                    $(<$Sure as $crate::view::column::Columns>::cells(it.map(|it| &it.$name), to);)?
                )+
            }
        }
    };
}
pub(crate) use row;

/// Declares what is one column: its kind and its cell.
macro_rules! one_column {
    ($($Type:ty: $Kind:ident, $it:ident => $cell:expr;)+) => {$(
        impl Columns for $Type {
            fn columns(name: &'static str, meaning: &'static str) -> Vec<Column> {
                vec![Column { name, kind: Kind::$Kind, meaning }]
            }

            fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
                to.push(Cell::$Kind(it.and_then(|$it| $cell)));
            }
        }
    )+};
}

one_column! {
    String: Text, it => Some(Cow::Borrowed(it.as_str())).filter(|it| !it.is_empty());
    Vec<String>: Text, it => (!it.is_empty()).then(|| Cow::Owned(it.join("; ")));
    Vec<Option<f64>>: Text, it => (!it.is_empty()).then(|| Cow::Owned(listed(it)));
    f64: Number, it => Some(*it).filter(|it| it.is_finite());
    usize: Whole, it => i64::try_from(*it).ok();
    Date: Day, it => Some(*it);
    bool: Flag, it => Some(*it);
    Bound: Text, it => Some(Cow::Owned(word(it)));
    DecisionRule: Text, it => Some(Cow::Owned(word(it)));
    Direction: Text, it => Some(Cow::Owned(word(it)));
    Hazard: Text, it => Some(Cow::Owned(word(it)));
    SourceKind: Text, it => Some(Cow::Owned(word(it)));
    Measure: Text, it => Some(Cow::Owned(word(it)));
    Motion: Text, it => Some(Cow::Owned(word(it)));
    Verdict: Text, it => Some(Cow::Owned(word(it)));
    RowKind: Text, it => Some(Cow::Owned(word(it)));
    VisitKind: Text, it => Some(Cow::Owned(word(it)));
}

/// The word under which serde writes a plain variant.
fn word(variant: &impl Serialize) -> String {
    match serde_json::to_value(variant) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// The codes of facts in one cell, their sentences in the next.
impl<F: Fact> Columns for Vec<Said<F>> {
    fn columns(name: &'static str, meaning: &'static str) -> Vec<Column> {
        let codes = match name {
            "reasons" => "reason_codes",
            "remarks" => "remark_codes",
            "open" => "open_codes",
            _ => "told_codes",
        };
        [
            String::columns(codes, "the codes of what follows, in its order"),
            String::columns(name, meaning),
        ]
        .concat()
    }

    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
        let all = || it.into_iter().flatten();
        let codes: Vec<String> = all().map(|one| one.fact.code()).collect();
        let texts: Vec<&str> = all().map(|one| &*one.text).collect();
        for text in [codes.join("; "), texts.join("; ")] {
            to.push(Cell::Text((!text.is_empty()).then(|| text.into())));
        }
    }
}

fn listed(values: &[Option<f64>]) -> String {
    let shown = |value: &Option<f64>| value.map_or_else(|| "none".to_owned(), |it| it.to_string());
    values.iter().map(shown).collect::<Vec<_>>().join("; ")
}

impl Columns for TestPoint {
    fn columns(_: &'static str, _: &'static str) -> Vec<Column> {
        let columns = [
            Direction::columns("direction", "which way the leaf moved"),
            Hazard::columns("hazard", "which part of the leaf hit"),
            f64::columns("gap_mm", "opening left at contact"),
            f64::columns(
                "height_mm",
                "height above the ground; of a vertical leaf the place across",
            ),
        ];
        columns.concat()
    }

    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
        Direction::cells(it.map(|it| &it.direction), to);
        Hazard::cells(it.map(|it| &it.hazard), to);
        f64::cells(it.map(|it| &it.gap_mm), to);
        f64::cells(it.map(|it| &it.height_mm), to);
    }
}

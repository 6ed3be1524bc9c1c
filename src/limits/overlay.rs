//! An overlay: what the owner of a document confirms or corrects in a profile of the shelf.

use serde::Deserialize;

use super::SourceKind;
use super::profile::Bound;
use super::schema::{Document, Named};
use super::shelf::{Complaint, ProfileError, names};
use crate::toml_tree::{Fault, Tree};

/// An overlay file as it stands.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Overlay {
    pub(super) extends: String,
    name: Option<String>,
    title: Option<String>,
    #[serde(rename = "confirm", default)]
    confirmations: Vec<Confirm>,
}

/// One confirmed value.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Confirm {
    limit: String,
    value: f64,
    unit: String,
    bound: Option<Bound>,
    clause: Option<String>,
    confirmed_on: String,
    confirmed_from: String,
    /// Where it starts in the text.
    #[serde(skip)]
    start: usize,
}

impl Overlay {
    /// The overlay of a text, each of its values with its place.
    pub(super) fn of(tree: &Tree<'_>) -> Result<Self, Fault> {
        let mut overlay: Self = tree.read()?;
        for (index, confirm) in overlay.confirmations.iter_mut().enumerate() {
            confirm.start = tree.place(&["confirm", &index.to_string()]).start;
        }
        Ok(overlay)
    }

    /// Writes the confirmed values into the document of the profile that the overlay extends.
    pub(super) fn lay_over(
        &self,
        mut document: Document,
        place: &Complaint<'_>,
    ) -> Result<Document, ProfileError> {
        let base = std::mem::take(&mut document.name);
        let mut corrects = false;
        let mut seen: Vec<&str> = Vec::new();
        for confirm in &self.confirmations {
            if seen.contains(&&*confirm.limit) {
                return Err(place.at(
                    confirm.start,
                    "confirm.limit",
                    &confirm.limit,
                    "each name once",
                ));
            }
            seen.push(&confirm.limit);
            check(confirm, place)?;
            corrects |= write(&mut document, confirm, place)?;
        }
        // Only a profile whose numbers are those of the shelf, to the last one, may have its name.
        document.name = match &self.name {
            Some(name) if names().contains(&&**name) => {
                return Err(place.key("name", name, "a name that no profile on the shelf has"));
            }
            Some(name) => name.clone(),
            None if corrects => format!("{base}-own"),
            None => base.clone(),
        };
        document.title = match &self.title {
            Some(title) => title.clone(),
            None if corrects => format!("own limits based on {}", document.title),
            None => format!("{}, with values confirmed by the owner", document.title),
        };
        document.extends = Some(base);
        Ok(document)
    }
}

fn check(confirm: &Confirm, place: &Complaint<'_>) -> Result<(), ProfileError> {
    let wrong = |key: &str, found: &str, expected: &str| {
        Err(place.at(
            confirm.start,
            &format!("confirm.{key} of {}", confirm.limit),
            found,
            expected,
        ))
    };
    if !(confirm.value.is_finite() && confirm.value > 0.0) {
        return wrong("value", &confirm.value.to_string(), "a number above 0");
    }
    if confirm.confirmed_on.parse::<jiff::civil::Date>().is_err() {
        return wrong("confirmed_on", &confirm.confirmed_on, "a day as YYYY-MM-DD");
    }
    if confirm.confirmed_from.trim().is_empty() {
        return wrong(
            "confirmed_from",
            &confirm.confirmed_from,
            "the copy it was read in",
        );
    }
    Ok(())
}

/// Writes a value into the document; whether it differs from what stood there.
fn write(
    document: &mut Document,
    confirm: &Confirm,
    place: &Complaint<'_>,
) -> Result<bool, ProfileError> {
    let unit_differs = |unit: &str| {
        place.at(
            confirm.start,
            &format!("confirm.unit of {}", confirm.limit),
            &confirm.unit,
            unit,
        )
    };
    let corrected = |before: f64| (before != confirm.value).then_some(before);
    let mut limits = document.limits.iter_mut();
    if let Some(limit) = limits.find(|limit| limit.name == confirm.limit) {
        if confirm.unit != limit.unit {
            return Err(unit_differs(&limit.unit));
        }
        let bound = confirm.bound.unwrap_or(limit.bound);
        let other_bound = (bound != limit.bound).then_some(limit.value);
        limit.corrected_from = corrected(limit.value).or(other_bound);
        limit.value = confirm.value;
        limit.start = confirm.start;
        limit.bound = bound;
        limit.source = SourceKind::Confirmed;
        limit.clause = confirm.clause.clone().or_else(|| limit.clause.take());
        limit.confirmed_on = Some(confirm.confirmed_on.clone());
        limit.confirmed_from = Some(confirm.confirmed_from.clone());
        return Ok(limit.corrected_from.is_some());
    }
    let expected = format!("one of {}", known_names(document).join(", "));
    let found = document
        .marked()
        .into_iter()
        .find(|named| named.name == confirm.limit);
    let Some(Named {
        name, unit, marked, ..
    }) = found
    else {
        return Err(place.at(confirm.start, "confirm.limit", &confirm.limit, &expected));
    };
    if confirm.unit != unit {
        return Err(unit_differs(unit));
    }
    if confirm.bound.is_some() {
        return Err(place.at(
            confirm.start,
            "confirm.bound",
            name,
            "no bound, because it is not a limit",
        ));
    }
    marked.corrected_from = corrected(marked.value);
    marked.value = confirm.value;
    marked.start = confirm.start;
    marked.source = SourceKind::Confirmed;
    marked.clause = confirm.clause.clone().or_else(|| marked.clause.take());
    marked.confirmed_on = Some(confirm.confirmed_on.clone());
    marked.confirmed_from = Some(confirm.confirmed_from.clone());
    Ok(marked.corrected_from.is_some())
}

fn known_names(document: &mut Document) -> Vec<String> {
    let limits: Vec<String> = document
        .limits
        .iter()
        .map(|limit| limit.name.clone())
        .collect();
    let values = document
        .marked()
        .into_iter()
        .map(|named| named.name.to_owned());
    limits.into_iter().chain(values).collect()
}

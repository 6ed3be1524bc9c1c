//! An overlay: what the owner of a document confirms or corrects in a profile of the shelf.

use serde::Deserialize;
use toml::Spanned;

use super::KnownFrom;
use super::profile::Bound;
use super::schema::Document;
use super::shelf::{Complaint, ProfileError};

/// An overlay file as it stands.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Overlay {
    pub(super) extends: Spanned<String>,
    name: Option<String>,
    title: Option<String>,
    #[serde(rename = "confirm", default)]
    confirmations: Vec<Spanned<Confirm>>,
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
}

impl Overlay {
    /// Writes the confirmed values into the document of the profile that the overlay extends.
    pub(super) fn lay_over(
        &self,
        mut document: Document,
        place: &Complaint<'_>,
    ) -> Result<Document, ProfileError> {
        document.extends = Some(document.name.clone());
        if let Some(name) = &self.name {
            document.name.clone_from(name);
        }
        document.title = match &self.title {
            Some(title) => title.clone(),
            None => format!("{}, with values confirmed by the owner", document.title),
        };
        let mut seen: Vec<&str> = Vec::new();
        for spanned in &self.confirmations {
            let confirm = spanned.get_ref();
            if seen.contains(&&*confirm.limit) {
                return Err(place.at(
                    spanned.span().start,
                    "confirm.limit",
                    &confirm.limit,
                    "each name once",
                ));
            }
            seen.push(&confirm.limit);
            check(confirm, spanned.span().start, place)?;
            write(&mut document, confirm, spanned.span().start, place)?;
        }
        Ok(document)
    }
}

fn check(confirm: &Confirm, start: usize, place: &Complaint<'_>) -> Result<(), ProfileError> {
    let wrong = |key: &str, found: &str, expected: &str| {
        Err(place.at(
            start,
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

fn write(
    document: &mut Document,
    confirm: &Confirm,
    start: usize,
    place: &Complaint<'_>,
) -> Result<(), ProfileError> {
    let unit_differs = |unit: &str| {
        place.at(
            start,
            &format!("confirm.unit of {}", confirm.limit),
            &confirm.unit,
            unit,
        )
    };
    let corrected = |before: f64| (before != confirm.value).then_some(before);
    let limits = document.limits.iter_mut().map(Spanned::get_mut);
    if let Some(limit) = limits.into_iter().find(|limit| limit.name == confirm.limit) {
        if confirm.unit != limit.unit {
            return Err(unit_differs(&limit.unit));
        }
        limit.corrected_from = corrected(limit.value);
        limit.value = confirm.value;
        limit.bound = confirm.bound.unwrap_or(limit.bound);
        limit.known_from = KnownFrom::Confirmed;
        limit.clause = confirm.clause.clone().or_else(|| limit.clause.take());
        limit.confirmed_on = Some(confirm.confirmed_on.clone());
        limit.confirmed_from = Some(confirm.confirmed_from.clone());
        return Ok(());
    }
    let expected = format!("one of {}", known_names(document).join(", "));
    let found = document
        .marked()
        .into_iter()
        .find(|(name, ..)| *name == confirm.limit);
    let Some((name, unit, marked)) = found else {
        return Err(place.at(start, "confirm.limit", &confirm.limit, &expected));
    };
    if confirm.unit != unit {
        return Err(unit_differs(unit));
    }
    if confirm.bound.is_some() {
        return Err(place.at(
            start,
            "confirm.bound",
            name,
            "no bound, because it is not a limit",
        ));
    }
    marked.corrected_from = corrected(*marked.value.get_ref());
    *marked.value.get_mut() = confirm.value;
    marked.known_from = KnownFrom::Confirmed;
    marked.clause = confirm.clause.clone().or_else(|| marked.clause.take());
    marked.confirmed_on = Some(confirm.confirmed_on.clone());
    marked.confirmed_from = Some(confirm.confirmed_from.clone());
    Ok(())
}

fn known_names(document: &mut Document) -> Vec<String> {
    let limits: Vec<String> = document
        .limits
        .iter()
        .map(|limit| limit.get_ref().name.clone())
        .collect();
    let values = document
        .marked()
        .into_iter()
        .map(|(name, ..)| name.to_owned());
    limits.into_iter().chain(values).collect()
}

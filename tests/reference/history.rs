//! A line through visits: slope, standard error, interval and where it reaches a limit, against SciPy; the day against a
//! closed form. The line itself is held against NIST's "Norris" in `compare.rs`.

use jiff::civil::{Date, date};
use relent::compare::{Confidence, least_squares};
use relent::record::history::{NoTrend, Outlook, trend, years};
use serde_json::Value;

use crate::check::{Check, Tolerance, hold};

const CASES: &str = include_str!("../../fixtures/reference/history.json");
const SCIPY: &str = "SciPy 1.17.1, scipy.stats.linregress, scipy.stats.t, scipy.optimize.brentq; script fixtures/reference/history.py";
const CALENDAR: &str =
    "closed form: the line 300 + 20·t reaches 400 after 5 years of 365.2425 days, 1826.2 days";

fn visits(case: &Value) -> Vec<(Date, f64)> {
    let visits = case["visits"].as_array().unwrap().iter();
    visits
        .map(|visit| {
            let day = visit[0].as_str().unwrap().parse().unwrap();
            (day, visit[1].as_f64().unwrap())
        })
        .collect()
}

fn of_case(case: &Value) -> Vec<Check> {
    let name = case["name"].as_str().unwrap();
    let visits = visits(case);
    let limit = case["limit"].as_f64().unwrap();
    let found = trend(&visits, limit).unwrap();
    let check = |what: &str, computed: f64, tolerance| Check {
        what: format!("{name}: {what}"),
        source: SCIPY,
        expected: case[what].as_f64().unwrap(),
        computed,
        unit: "",
        tolerance,
    };
    let near = Tolerance::Relative(1e-10);
    let mut checks = vec![
        check("slope", found.slope_per_year, near),
        check("standard_error", found.standard_error, near),
        check("lower", found.interval.lower, Tolerance::Relative(1e-8)),
        check("upper", found.interval.upper, Tolerance::Relative(1e-8)),
        check("residual_deviation", found.residual_deviation, near),
    ];
    let (x, y): (Vec<f64>, Vec<f64>) = visits
        .iter()
        .map(|(day, value)| (years(visits[0].0, *day), *value))
        .unzip();
    let line = least_squares(&x, &y).unwrap();
    let reach = line.reaches(limit, Confidence::new(0.95).unwrap());
    if case.get("reaches").is_some() {
        let reach = reach.unwrap();
        let far = Tolerance::Relative(1e-8);
        checks.push(check("reaches", reach.at, far));
        checks.push(check("earliest", reach.between.0, far));
        checks.push(check("latest", reach.between.1, far));
        let Outlook::WouldReach(reached) = found.outlook else {
            panic!("{name}: {:?}", found.outlook)
        };
        let expected = case["reaches"].as_f64().unwrap();
        checks.push(Check {
            what: format!("{name}: day on which the line reaches the limit"),
            source: SCIPY,
            expected: (expected * 365.2425).round(),
            computed: f64::from(visits[0].0.until(reached.on).unwrap().get_days()),
            unit: "d",
            tolerance: Tolerance::Absolute(0.0),
        });
    }
    checks
}

/// Five lines by SciPy, and a day by the calendar.
pub fn checks() -> Vec<Check> {
    let cases: Value = serde_json::from_str(CASES).unwrap();
    let mut checks: Vec<Check> = cases["cases"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(of_case)
        .collect();
    checks.push(calendar());
    checks
}

/// Readings that lie ± 0.1 about 300 + 20·t, two on each day, so that the line is known without a fit.
fn calendar() -> Check {
    let first = date(2022, 1, 1);
    let readings: Vec<(Date, f64)> = [date(2022, 1, 1), date(2022, 9, 1), date(2023, 11, 30)]
        .into_iter()
        .flat_map(|day| {
            let on_line = 300.0 + 20.0 * years(first, day);
            [(day, on_line - 0.1), (day, on_line + 0.1)]
        })
        .collect();
    let found = trend(&readings, 400.0).unwrap();
    let Outlook::WouldReach(reached) = found.outlook else {
        panic!("{:?}", found.outlook)
    };
    Check {
        what: "days from the first visit to the day on which a known line reaches 400 N".to_owned(),
        source: CALENDAR,
        expected: 1826.0,
        computed: f64::from(first.until(reached.on).unwrap().get_days()),
        unit: "d",
        tolerance: Tolerance::Absolute(0.0),
    }
}

#[test]
fn the_lines_through_visits_agree_with_scipy_and_the_calendar() {
    hold(&checks(), 5 * 5 + 3 * 4 + 1);
}

#[test]
fn a_slope_that_is_not_shown_falls_or_has_too_few_visits_names_no_day() {
    let cases: Value = serde_json::from_str(CASES).unwrap();
    let outlook = |place: usize| {
        let case = &cases["cases"][place];
        trend(&visits(case), case["limit"].as_f64().unwrap()).map(|it| it.outlook)
    };
    assert_eq!(outlook(3), Ok(Outlook::Falls));
    assert_eq!(outlook(4), Ok(Outlook::NotShown));
    let two = [(date(2022, 1, 1), 300.0), (date(2023, 1, 1), 310.0)];
    let too_few = NoTrend::TooFew {
        readings: 2,
        least: 3,
    };
    assert_eq!(trend(&two, 400.0), Err(too_few));
    let one_day = [(date(2022, 1, 1), 300.0); 3];
    assert!(trend(&one_day, 400.0).is_err());
    let over = [
        (date(2021, 1, 1), 390.0),
        (date(2022, 1, 1), 411.0),
        (date(2023, 1, 1), 429.0),
        (date(2024, 1, 1), 451.0),
    ];
    assert_eq!(trend(&over, 400.0).unwrap().outlook, Outlook::AtTheLimit);
    let slow = [
        (date(2021, 1, 1), 300.00),
        (date(2022, 1, 1), 300.11),
        (date(2023, 1, 1), 300.19),
        (date(2024, 1, 1), 300.30),
    ];
    assert_eq!(trend(&slow, 400.0).unwrap().outlook, Outlook::FarAway);
}

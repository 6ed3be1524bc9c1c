//! What is written on the drawing of the hits: limits, levels and events beside what they name, and which line is which hit.

use maud::{Markup, html};
use plotters::style::RGBColor;

use super::canvas::number;
use super::curve::thinned;
use super::elevation::{lettering, line};
use super::envelope::within;
use super::hit::{Event, HIGH, Hits, Map, Panel, SIZE};
use super::label::{Frame, Labels, width};
use super::mark::mark;
use super::style::{INK, REPEATS};
use crate::words::Words;

impl Panel {
    /// Everything written on a panel.
    pub(super) fn lettering(
        &self,
        words: &Words,
        hits: &Hits,
        map: &Map,
        panels: &[Self; 2],
    ) -> Markup {
        let mut labels = Labels::inside(map.frame);
        self.keep_curves(&mut labels, hits, map);
        let boundary = self.boundary_words(words, hits, map, &mut labels);
        // The deciding hit first: it has the choice of places.
        let others = hits
            .repeats
            .iter()
            .enumerate()
            .filter(|(index, _)| *index != hits.deciding);
        let ordered = hits
            .repeats
            .get(hits.deciding)
            .into_iter()
            .chain(others.map(|(_, repeat)| repeat));
        let events = ordered
            .flat_map(|repeat| &repeat.events)
            .filter(|event| self.shows(event, panels));
        html! {
            (lettering("soft", (map.frame.left - 34.0, map.frame.top - 9.0), "start", &if self.left > 0.0 { words.say("report-whole-record") } else { words.say("report-enlarged") }))
            (lettering("soft", (map.frame.right, map.frame.bottom + 32.0), "end", &if self.left > 0.0 { words.say("report-s-after-contact") } else { words.say("report-ms-after-contact") }))
            (boundary)
            @for event in events { (event_words(event, map, &mut labels)) }
        }
    }

    /// An event is named once: in the enlarged panel if it lies there, else in the other.
    fn shows(&self, event: &Event, panels: &[Self; 2]) -> bool {
        let inside = |panel: &Self| event.at_s >= panel.window.0 && event.at_s <= panel.window.1;
        inside(self) && (self.left <= 0.0 || !inside(&panels[0]))
    }

    /// Labels keep off the curves where they can, and off the marks of the events.
    fn keep_curves(&self, labels: &mut Labels, hits: &Hits, map: &Map) {
        for repeat in &hits.repeats {
            let points = thinned(
                &repeat.times,
                &repeat.forces,
                self.window.0..self.window.1,
                self.columns / 8,
            );
            for pair in points.windows(2) {
                let (a, b) = (map.at(pair[0]), map.at(pair[1]));
                labels.prefer_clear(Frame {
                    left: a.0.min(b.0),
                    right: a.0.max(b.0) + 0.5,
                    top: a.1.min(b.1) - 1.0,
                    bottom: a.1.max(b.1) + 1.0,
                });
            }
        }
        let levels = hits
            .steps
            .iter()
            .map(|step| step.force_n)
            .chain([hits.level.0]);
        for force in levels.chain(hits.mean.iter().map(|mean| mean.0)) {
            let y = map.at((0.0, force)).1;
            labels.prefer_clear(Frame {
                left: map.frame.left,
                right: map.frame.right,
                top: y - 1.0,
                bottom: y + 1.0,
            });
        }
    }

    /// The words of the limits, of the static level and of the mean, at the right end of their lines.
    fn boundary_words(&self, words: &Words, hits: &Hits, map: &Map, labels: &mut Labels) -> Markup {
        let mut named: Vec<(f64, f64, String)> = within(&hits.steps, self.window.0, self.window.1)
            .into_iter()
            .map(|(_, until, step)| {
                let named = if step.force_n > map.y.1 {
                    words.with(
                        "report-above-axis",
                        &[("limit", step.words.as_str().into())],
                    )
                } else {
                    step.words.clone()
                };
                (until, step.force_n.min(map.y.1), named)
            })
            .collect();
        if self.left <= 0.0 {
            named.push((self.window.1, hits.level.0, hits.level.1.clone()));
            named.extend(
                hits.mean
                    .iter()
                    .map(|(force, text)| (self.window.1, *force, text.clone())),
            );
        }
        html! {
            @for (until, force, text) in named {
                @let (x, y) = map.at((until, force));
                @let near = (x - 4.0, y - 9.0);
                @if let Some(placed) = labels.place(near, &text, SIZE) {
                    (lettering("forbidden", (placed.x, placed.y), "start", &text))
                }
            }
        }
    }
}

/// A dot or mark on the curve with its words beside it.
fn event_words(event: &Event, map: &Map, labels: &mut Labels) -> Markup {
    let (x, y) = map.at((event.at_s, event.force_n));
    let dot = Frame {
        left: x - 4.0,
        right: x + 4.0,
        top: y - 4.0,
        bottom: y + 4.0,
    };
    labels.keep_clear(dot);
    let placed = labels.place((x, y), &event.words, SIZE);
    html! {
        @if let Some(placed) = placed {
            @let end = (x.clamp(placed.frame.left, placed.frame.right), y.clamp(placed.frame.top, placed.frame.bottom));
            @if (end.0 - x).hypot(end.1 - y) > 9.0 { (line("thin", (x, y), end)) }
            (lettering("halo event", (placed.x, placed.y), "start", &event.words))
        }
        @if let Some(state) = event.state {
            (mark(state, Some(1.0), (x, y), 4.5))
        } @else {
            circle.dot cx=(number(x)) cy=(number(y)) r="3" {}
        }
    }
}

/// Which line is which repeat, below the panels, in a drawing of a width.
pub(super) fn key(hits: &Hits, wide: f64) -> Markup {
    let room = (wide - 20.0) / hits.repeats.len().max(1) as f64;
    html! {
        @for (index, repeat) in hits.repeats.iter().enumerate() {
            @let x = 10.0 + room * index as f64;
            g.plot transform=(format!("translate({} {}) scale(.125)", number(x), number(HIGH - 7.0))) {
                line x1="0" y1="-30" x2="240" y2="-30" stroke-width=(if index == hits.deciding { "12" } else { "7" })
                    stroke=(hex(if index == hits.deciding { INK } else { REPEATS[index % REPEATS.len()] })) {}
            }
            (lettering(if index == hits.deciding { "strong" } else { "soft" }, (x + 36.0, HIGH - 7.0), "start", &clipped(&repeat.name, room - 50.0)))
        }
    }
}

/// A name cut to a width.
fn clipped(name: &str, room: f64) -> String {
    if width(name, SIZE) <= room {
        return name.to_owned();
    }
    let mut kept = String::new();
    for letter in name.chars() {
        if width(&kept, SIZE) + 2.0 * SIZE > room {
            break;
        }
        kept.push(letter);
    }
    kept + "…"
}

fn hex(pen: RGBColor) -> String {
    format!("#{:02X}{:02X}{:02X}", pen.0, pen.1, pen.2)
}

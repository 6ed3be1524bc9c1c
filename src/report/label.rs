//! Where the words of a drawing go: no two labels ever overlap.

/// A rectangle of a drawing, y downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Left side.
    pub left: f64,
    /// Upper side.
    pub top: f64,
    /// Right side.
    pub right: f64,
    /// Lower side.
    pub bottom: f64,
}

impl Frame {
    /// True if the two share some area.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn holds(&self, other: &Self) -> bool {
        other.left >= self.left
            && other.right <= self.right
            && other.top >= self.top
            && other.bottom <= self.bottom
    }
}

/// Width of a text at a font size, from the wide side: the widths of DejaVu Sans, the widest of the usual system fonts.
#[must_use]
pub fn width(text: &str, size: f64) -> f64 {
    text.chars().map(em).sum::<f64>() * size
}

fn em(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | 'I' | '\'' => 0.30,
        ' ' | '.' | ',' | ':' | ';' | 'f' | 't' | 'r' | '(' | ')' | '-' | '/' | '|' => 0.42,
        'm' | 'w' | 'M' | 'W' | '%' | '—' => 1.0,
        '≥' | '≤' | '±' | '<' | '>' | '=' | '+' | '−' => 0.84,
        'D' | 'G' | 'H' | 'O' | 'Q' => 0.79,
        'A'..='Z' => 0.75,
        letter if letter.is_ascii() => 0.64,
        letter if ('\u{1100}'..).contains(&letter) => 1.05,
        _ => 0.75,
    }
}

/// Moves places apart until neighbours are at least `pitch` away from each other, moving them as little as needed and
/// keeping them between `least` and `most` as far as there is room. Out: one place for each place in, in the same order.
#[must_use]
pub fn spread(places: &[f64], pitch: f64, least: f64, most: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|a, b| places[*a].total_cmp(&places[*b]));
    // Blocks of touching places: (centre of their wishes, how many), merged until no two blocks touch.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for index in &order {
        blocks.push((places[*index], 1));
        while let [.., left, right] = blocks.as_slice() {
            let needed = (left.1 + right.1) as f64 / 2.0 * pitch;
            if right.0 - left.0 >= needed {
                break;
            }
            let count = left.1 + right.1;
            let centre = (left.0 * left.1 as f64 + right.0 * right.1 as f64) / count as f64;
            blocks.truncate(blocks.len() - 2);
            blocks.push((centre, count));
        }
    }
    let wished = blocks.iter().flat_map(|(centre, count)| {
        (0..*count).map(move |k| centre + (k as f64 - (*count as f64 - 1.0) / 2.0) * pitch)
    });
    let mut sorted: Vec<f64> = wished.collect();
    let last = sorted.len();
    for index in (0..last).rev() {
        let room = if index + 1 < last {
            sorted[index + 1] - pitch
        } else {
            most
        };
        sorted[index] = sorted[index].min(room);
    }
    for index in 0..last {
        let room = if index > 0 {
            sorted[index - 1] + pitch
        } else {
            least
        };
        sorted[index] = sorted[index].max(room);
    }
    let mut out = vec![0.0; places.len()];
    for (place, index) in sorted.into_iter().zip(order) {
        out[index] = place;
    }
    out
}

/// Finds room for labels beside the things they name.
#[derive(Clone, Debug)]
pub struct Labels {
    bounds: Frame,
    taken: Vec<Frame>,
    lines: Vec<Frame>,
}

/// A label with its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Left end of the base line.
    pub x: f64,
    /// Height of the base line.
    pub y: f64,
    /// The room it takes.
    pub frame: Frame,
}

impl Labels {
    /// Labels stay inside `bounds`.
    #[must_use]
    pub fn inside(bounds: Frame) -> Self {
        Self {
            bounds,
            taken: Vec::new(),
            lines: Vec::new(),
        }
    }

    /// Room that no label may take.
    pub fn keep_clear(&mut self, frame: Frame) {
        self.taken.push(frame);
    }

    /// Room that labels avoid where they can.
    pub fn prefer_clear(&mut self, frame: Frame) {
        self.lines.push(frame);
    }

    /// Places a text of a font size near a point; `None` if there is no room left for it.
    pub fn place(&mut self, near: (f64, f64), text: &str, size: f64) -> Option<Placed> {
        let (wide, high) = (width(text, size), size * 1.2);
        let best = self
            .candidates(near, wide, high)
            .filter(|frame| self.bounds.holds(frame))
            .filter(|frame| !self.taken.iter().any(|taken| taken.overlaps(frame)))
            .min_by(|a, b| self.cost(near, a).total_cmp(&self.cost(near, b)))?;
        self.taken.push(best);
        Some(Placed {
            x: best.left,
            y: best.bottom - size * 0.28,
            frame: best,
        })
    }

    fn candidates(
        &self,
        (x, y): (f64, f64),
        wide: f64,
        high: f64,
    ) -> impl Iterator<Item = Frame> + use<> {
        let lefts = [
            7.0,
            -7.0 - wide,
            -wide / 2.0,
            22.0,
            -22.0 - wide,
            60.0,
            -60.0 - wide,
        ];
        let steps = (-14..=14).map(f64::from);
        steps.flat_map(move |step| {
            lefts.map(|left| {
                let middle = y + step * high * 0.75;
                Frame {
                    left: x + left,
                    right: x + left + wide,
                    top: middle - high / 2.0,
                    bottom: middle + high / 2.0,
                }
            })
        })
    }

    /// Distance from the point to the label, and a fine for each line it lies upon.
    fn cost(&self, (x, y): (f64, f64), frame: &Frame) -> f64 {
        let across = (frame.left - x).max(x - frame.right).max(0.0);
        let along = (frame.top - y).max(y - frame.bottom).max(0.0);
        let middle = ((frame.top + frame.bottom) / 2.0 - y).abs() / 4.0;
        let crossed = self
            .lines
            .iter()
            .filter(|line| line.overlaps(frame))
            .count();
        across.hypot(along) + middle + 40.0 * (crossed as f64).min(12.0)
    }
}

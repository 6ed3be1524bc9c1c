//! Where on a leaf a gauge was held, as the name of a log gives it.

use std::fmt;

use crate::limits::Motion;
use crate::quantity::Millimetre;

use super::sections::GateSection;

/// A height, or for a vertical leaf a place across the opening, as a name gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// In mm.
    At(Millimetre),
    /// 50 mm above the ground.
    Low,
    /// Half the height of the leaf.
    Half,
    /// 300 mm below its top, but not above 2500 mm.
    Top,
    /// 200 mm from the left jamb of a vertical leaf.
    Left,
    /// Half the width of the opening of a vertical leaf.
    Middle,
    /// 200 mm from its right jamb.
    Right,
}

impl Place {
    /// The words for heights.
    pub const UP: [(&'static str, Self); 3] =
        [("low", Self::Low), ("half", Self::Half), ("top", Self::Top)];
    /// The words for places across the opening of a vertical leaf.
    pub const ACROSS: [(&'static str, Self); 3] = [
        ("left", Self::Left),
        ("middle", Self::Middle),
        ("right", Self::Right),
    ];

    /// The place in mm on this leaf; `None` where the gate file does not give the measure it is a part of, or the word
    /// does not belong to this motion.
    ///
    /// # Source
    /// The places of EN 12445:2000 as the project knows them, second-hand: 50 mm above the ground, half height, 300 mm
    /// below the top, none above 2500 mm; for vertical leaves mid width and 200 mm from each jamb.
    #[must_use]
    pub fn resolve(self, gate: &GateSection) -> Option<Millimetre> {
        let upright = gate.motion != Motion::Vertical;
        let height = gate.leaf_height.filter(|_| upright);
        let width = gate.clear_opening.or(gate.leaf_width).filter(|_| !upright);
        match self {
            Self::At(place) => Some(place),
            Self::Low => Some(Millimetre(50.0)).filter(|_| upright),
            Self::Half => height.map(|height| height / 2.0),
            Self::Top => height.map(|height| Millimetre((height.get() - 300.0).min(2500.0))),
            Self::Left => Some(Millimetre(200.0)).filter(|_| !upright),
            Self::Middle => width.map(|width| width / 2.0),
            Self::Right => width.map(|width| width - Millimetre(200.0)),
        }
        .filter(|place| place.get() >= 0.0)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Self::At(place) = self {
            return place.fmt(f);
        }
        let mut words = Self::UP.iter().chain(&Self::ACROSS);
        f.write_str(
            words
                .find(|(_, place)| place == self)
                .map_or("", |(word, _)| word),
        )
    }
}

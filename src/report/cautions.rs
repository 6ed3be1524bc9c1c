//! The usual cautions, in the words of every output.

/// The caution beside the outcome.
pub const STANDING: &str = "These readings say how hard the leaf hit a gauge at the points listed. They are not proof that the gate is free of danger: hazards without a reading are listed at the end, and local codes and licensed practice come first.";

/// The same while the visit is made: there is no end to list the hazards at yet.
pub const WHILE_TESTING: &str = "These readings say how hard the leaf hit a gauge at the points listed. They are not proof that the gate is free of danger: the report lists the hazards without a reading, and local codes and licensed practice come first. Testing a moving gate is itself dangerous: work with two people, keep everybody else out, and hold the gauge with a fixed support.";

/// Cautions for whoever tests or acts on the results; common practice, no source.
pub const CAUTIONS: [&str; 5] = [
    "Local codes, the manufacturer's instructions and licensed practice come before anything written here.",
    "Testing a moving gate is itself dangerous: work with two people, keep everybody else out, hold the gauge with a fixed support and never by hand or body in the path of the leaf.",
    "Isolate the power and secure the leaf while setting up, moving the gauge or working on the drive.",
    "Never raise the force or lower the sensitivity to get rid of nuisance reversals before the mechanics have been looked at.",
    "A repair, a new part, new firmware or a changed setting makes these results out of date.",
];

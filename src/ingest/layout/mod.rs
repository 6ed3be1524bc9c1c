//! Text → how it is laid out: where the rows begin, what separates their cells, what each column is.

pub(super) mod choice;
pub(super) mod columns;
pub(super) mod dialect;
pub(super) mod fit;
pub(super) mod heads;
pub(super) mod join;
pub(super) mod marks;
pub(super) mod preamble;
pub(super) mod propose;
pub(super) mod rate;
pub(super) mod sample;
pub(super) mod says;
pub(super) mod shape;
pub(super) mod stack;
pub(super) mod start;
pub(super) mod words;

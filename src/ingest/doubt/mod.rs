//! What is told or asked of the rows and the forces once they are read.

pub(super) mod forces;
pub(super) mod rows;

//! Profiles as rows: what is on the shelf, one profile in full, two profiles side by side.
